"""A sent version as text tracks of its clips: the notes as captions, the reps as chapters.

Written from the frozen content alone, so a track says for ever what was sent. Pure: no database.
"""

from collections.abc import Callable
from typing import Any

from reviews.replies.webvtt import Cue, written

# How long words stay when their moment is shorter: common practice for subtitles, no source.
READ_PER_SECOND = 15  # characters
SHORTEST_MS = 2000

VERDICTS = {
    "standard": "to standard",
    "not-standard": "not to standard",
    "cannot-tell": "can't tell from this angle",
}


def captions(content: dict[str, Any], clip: dict[str, Any]) -> str:
    """The coach's words at their moments of `clip`, one of the frozen clips in `content`."""
    moments = [*content["points"], *content["rest"]]
    here = [m for m in moments if m["clip"] == clip["id"] and m["seconds"] is not None]
    return written(_caption(moment, _ms(clip["seconds"])) for moment in here)


def _caption(moment: dict[str, Any], clip_end: int) -> Cue:
    words = moment_words(moment)
    start, until = _ms(moment["seconds"]), _ms(moment["until"])
    reading = max(SHORTEST_MS, 1000 * len(words) // READ_PER_SECOND)
    end = max(until, min(start + reading, clip_end))
    return Cue(name=f"note-{moment['note']}", start=start, end=max(end, start + 1), words=words)


def moment_words(moment: dict[str, Any]) -> str:
    """What is said at a moment, a line for each: its name, the cue, what was seen, the drill."""
    name = moment["fault"] or ("What to look at" if moment["number"] else "")
    if moment["number"]:
        name = f"{moment['number']}. {name}"
    cue = f"“{moment['cue']}”" if moment["cue"] else ""
    drill = f"Drill: {moment['drill']}" if moment["drill"] else ""
    return "\n".join(filter(None, [name, cue, moment["text"], drill]))


def chapters(content: dict[str, Any], clip: dict[str, Any]) -> str:
    """The called reps of `clip` that the coach marked on it.

    Chapters lie one after the other or one inside the other, never partly over each other (the
    standard's rule for a chapter track): a rep marked too long ends where the next begins.
    """
    reps = [call for call in clip["calls"] if call["seconds"] is not None]
    starts = sorted({_ms(call["seconds"]) for call in reps})
    return written(_chapter(call, starts) for call in reps)


def _chapter(call: dict[str, Any], starts: list[int]) -> Cue:
    start, end = _ms(call["seconds"]), _ms(call["until"])
    later = next((other for other in starts if other > start), None)
    end = min(end, later) if later is not None else end
    words = f"Rep {call['rep']}: {VERDICTS[call['call']]}"
    if call["faults"]:
        words += f", {', '.join(call['faults'])}"
    return Cue(name=f"rep-{call['rep']}", start=start, end=max(end, start + 1), words=words)


def _ms(seconds: float) -> int:
    return round(1000 * seconds)


TRACKS: dict[str, Callable[[dict[str, Any], dict[str, Any]], str]] = {
    "captions": captions,
    "chapters": chapters,
}
