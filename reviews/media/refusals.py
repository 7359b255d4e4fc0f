"""Why a clip cannot be made playable, in words an athlete can act on.

Two kinds of failure leave this package. `Refused` is about the file: trying again gives the same
answer, so the athlete is told. `Interrupted` is about the machine (disk full, process killed): the
file may be fine, so the job tries again and the athlete is told nothing yet.
"""

_SAFE = "Your question and your other clips are safe."
_EXPORT = "Open it in your phone's gallery, save or export it as a video (MP4), and send that."

SENTENCES: dict[str, str] = {
    "empty": f"The file arrived with nothing in it. {_SAFE} Choose the clip again and send it.",
    "not_a_video": f"This file is not a video, whatever its name says. {_SAFE} "
    "Choose the video itself from your gallery and send that.",
    "picture": f"This file is a picture, not a video. {_SAFE} "
    "Choose the video of the lift and send that.",
    "unknown_kind": f"We cannot read this kind of video file. {_SAFE} {_EXPORT}",
    "unfinished": "The recording was never finished, so the part that says how to play it is "
    f"missing. {_SAFE} Check that the clip plays on your phone, then send it again; if it does "
    "not play there, please film the lift again.",
    "cut_off": f"The end of the file is missing, so the lift may be cut short. {_SAFE} "
    "Check that the clip plays to its end on your phone, then send it again.",
    "damaged": f"The file is damaged and cannot be read. {_SAFE} "
    "Check that the clip plays on your phone, then send it again; if it does not play there, "
    "please film the lift again.",
    "no_picture": f"There is sound in this file but no picture. {_SAFE} "
    "Choose the video of the lift and send that.",
    "linked": f"This file only points to a video kept somewhere else. {_SAFE} {_EXPORT}",
    "too_big_picture": f"The picture is larger than we can handle. {_SAFE} "
    "Set your camera to 4K or 1080p, film the lift again and send that.",
    "too_long": f"The clip is longer than we can take. {_SAFE} "
    "Trim it to the sets you ask about and send it again.",
    "too_many_bytes": f"The file is larger than we can take. {_SAFE} "
    "Trim it to the sets you ask about, or film at 1080p, and send it again.",
    "too_many_parts": "The file holds more separate tracks of picture and sound than any camera "
    f"records. {_SAFE} {_EXPORT}",
    "too_hard": f"Our computer could not get through this clip in a sensible time. {_SAFE} "
    "Trim it to the sets you ask about, or film at 1080p, and send it again.",
}


class Refused(Exception):
    """The file cannot become playable; permanent. `reason` is a key of SENTENCES."""

    def __init__(self, reason: str, detail: str = "") -> None:
        if reason not in SENTENCES:
            raise KeyError(reason)
        super().__init__(f"{reason}: {detail}" if detail else reason)
        self.reason = reason
        self.detail = detail

    @property
    def sentence(self) -> str:
        """What the athlete reads: what happened, what is safe, what to do."""
        return SENTENCES[self.reason]


class Interrupted(Exception):
    """The machine failed, not the file; worth another attempt."""
