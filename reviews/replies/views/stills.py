"""A clip standing at one frame, without a script."""

from dataclasses import dataclass

from reviews.intake.clip_data import clip_pictures
from reviews.intake.models import Clip
from reviews.replies.frame_times import clock_of


@dataclass(frozen=True)
class Still:
    """``at`` is for a media fragment (W3C Media Fragments URI 1.0, ``#t=``), in seconds."""

    src: str
    poster: str
    width: int
    height: int
    at: str


def still_of(clip: Clip, frame: int) -> Still | None:
    """The middle of the frame's interval, which alone lands on it; none without frames."""
    clock = clock_of(clip)
    if clock is None or frame >= (clip.frames or 0):
        return None
    pictures = clip_pictures(clip)
    return Still(
        src=pictures["playable"],
        poster=pictures["poster"],
        width=pictures["width"],
        height=pictures["height"],
        at=f"{(clock.at(frame) + clock.until(frame)) / 2:.4f}",
    )
