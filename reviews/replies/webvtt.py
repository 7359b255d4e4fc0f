"""Writing WebVTT (W3C, https://www.w3.org/TR/webvtt1/). Pure: words and times in, a file out."""

import re
from collections.abc import Iterable
from dataclasses import dataclass

CONTENT_TYPE = "text/vtt; charset=utf-8"
_LINE_ENDS = re.compile(r"\r\n|\r|\n")
# A parser reads these as the start of a tag or an escape; "-->" ends a cue wherever it stands.
_ESCAPES = str.maketrans({"&": "&amp;", "<": "&lt;", ">": "&gt;"})


@dataclass(frozen=True, kw_only=True)
class Cue:
    """Words that stand from `start` to `end`, in whole milliseconds; `name` is one of a kind."""

    name: str
    start: int
    end: int
    words: str


def written(cues: Iterable[Cue]) -> str:
    """The file, its cues by their start and the longer first.

    A cue without words is left out: its payload would be a blank line. Raises ValueError for one
    that ends before it shows, or that starts before the clip.
    """
    inside = sorted((cue for cue in cues if payload(cue.words)), key=lambda c: (c.start, -c.end))
    return "\n".join(["WEBVTT", *(_block(cue) for cue in inside)]) + "\n"


def _block(cue: Cue) -> str:
    if not 0 <= cue.start < cue.end:
        raise ValueError(f"{cue.name} would show from {cue.start} to {cue.end} ms.")
    times = f"{timestamp(cue.start)} --> {timestamp(cue.end)}"
    return f"\n{cue.name}\n{times}\n{payload(cue.words)}"


def payload(words: str) -> str:
    """Words as a cue may hold them: no tag, no escape, no blank line, nothing that cannot print.

    Every run of space becomes one, line by line; a blank line would end the cue there.
    """
    lines = (" ".join(_printable(line).split()) for line in _LINE_ENDS.split(words))
    return "\n".join(line.translate(_ESCAPES) for line in lines if line)


def _printable(line: str) -> str:
    """Without what is not text: control characters, which parsers treat each in their own way, and
    lone surrogates, which UTF-8 cannot hold."""
    return "".join(
        " " if ch < " " or "\x7f" <= ch <= "\x9f" or "\ud800" <= ch <= "\udfff" else ch
        for ch in line
    )


def timestamp(ms: int) -> str:
    """A time in the standard's form: hours of two digits or more, three digits of a second."""
    seconds, ms = divmod(ms, 1000)
    minutes, seconds = divmod(seconds, 60)
    hours, minutes = divmod(minutes, 60)
    return f"{hours:02}:{minutes:02}:{seconds:02}.{ms:03}"
