"""The tracks of a sent reply, read back by parsers that are not ours.

Sources: WebVTT, W3C (https://www.w3.org/TR/webvtt1/): the timing line, what a payload may hold, and
the rule of chapter tracks; webvtt-py reads the file, Chromium's parser does in
tests/browser/reply/test_tracks.py.
"""

import re
from html import unescape
from itertools import combinations
from typing import Any

import pytest
import webvtt
from hypothesis import given, settings
from hypothesis import strategies as st

from reviews.replies.text_tracks import captions, chapters
from reviews.replies.webvtt import Cue, payload, timestamp, written

# "Authoring: hours of two or more digits, minutes and seconds of two below 60, three of fraction."
TIME = r"(?:\d{2,}:)?[0-5]\d:[0-5]\d\.\d{3}"
TIMING = re.compile(rf"({TIME}) --> ({TIME})")
HOSTILE = [
    "00:00:01.000 --> 00:00:02.000\nNOTE not a comment\n\nWEBVTT",
    "<b>bold</b> & <c.loud>louder</c> &amp; &lt;",
    "one\n\n\n  \ntwo\r\n\r\nthree\rfour",
    "🏋️‍♀️ tête ‮ הבא 深蹲",
    "nul\0 bell\a\x1b[0m \u2028 line \x85 next",
    "word " * 2000,
    "lone \ud83d surrogate",
]


def blocks(file: str) -> list[list[str]]:
    """Cue blocks by the letter of the standard: LF between lines, a blank line between blocks."""
    assert file.startswith("WEBVTT\n")
    assert file.endswith("\n")
    return [block.split("\n") for block in file.rstrip("\n").split("\n\n")[1:]]


def held_to_the_standard(file: str) -> list[list[str]]:
    file.encode("utf-8")
    found = blocks(file)
    names = [name for name, *_ in found]
    assert len(set(names)) == len(names)
    starts = []
    for name, timing, *lines in found:
        assert "-->" not in name
        times = TIMING.fullmatch(timing)
        assert times, timing
        start, end = map(milliseconds, times.groups())
        assert start < end
        starts.append(start)
        assert lines
        for line in lines:
            assert line.strip()
            assert "-->" not in line
            assert not re.search(r"<|&(?!amp;|lt;|gt;)", line)  # no tag, no stray escape
    assert starts == sorted(starts)
    return found


def milliseconds(time: str) -> int:
    *hours, minutes, seconds = time.split(":")
    whole, fraction = seconds.split(".")
    return ((int(hours[0]) if hours else 0) * 60 + int(minutes)) * 60000 + int(whole + fraction)


def a_clip(*calls: dict[str, Any], seconds: float = 9.0) -> dict[str, Any]:
    return {"id": "clip", "seconds": seconds, "calls": list(calls)}


def a_call(rep: int, seconds: float | None, until: float | None, **more: Any) -> dict[str, Any]:
    return {
        "rep": rep, "call": "standard", "faults": [], "seconds": seconds, "until": until, **more
    }  # fmt: skip


def a_moment(note: str, seconds: float | None, until: float | None, **more: Any) -> dict[str, Any]:
    empty = {"number": None, "clip": "clip", "fault": "", "text": "", "cue": "", "drill": ""}
    return {**empty, "note": note, "seconds": seconds, "until": until, **more}


def sent(*moments: dict[str, Any]) -> dict[str, Any]:
    points = [moment for moment in moments if moment["number"]]
    return {"points": points, "rest": [m for m in moments if not m["number"]]}


def test_a_reply_is_read_back_by_another_reader() -> None:
    point = a_moment(
        "a", 3.24, 3.28, number=1, fault="Hips rise first", cue="Shove the bar back.",
        text="Legs straighten first.\n\nThen the back lifts.", drill="Pause squat, 3 × 4",
    )  # fmt: skip
    rest = a_moment("b", 0.5, 8.0, text="Grip a thumb wider.")
    file = captions(sent(point, rest), a_clip())
    held_to_the_standard(file)
    first, second = webvtt.from_string(file)
    assert (first.identifier, first.start, first.end) == ("note-b", "00:00:00.500", "00:00:08.000")
    assert first.text == "Grip a thumb wider."
    assert (second.identifier, second.start) == ("note-a", "00:00:03.240")
    assert second.lines == [
        "1. Hips rise first",
        "“Shove the bar back.”",
        "Legs straighten first.",
        "Then the back lifts.",
        "Drill: Pause squat, 3 × 4",
    ]


def test_words_stay_to_be_read_but_not_beyond_the_clip() -> None:
    """Fifteen characters a second, two seconds at least: common practice, no source."""
    long = a_moment("a", 1.0, 1.033, text="x" * 60)
    short = a_moment("b", 1.0, 1.033, text="Good.")
    last = a_moment("c", 8.967, 9.0, text="x" * 600)
    file = captions(sent(long, short, last), a_clip())
    ends = {cue.identifier: cue.end for cue in webvtt.from_string(file)}
    assert ends == {
        "note-a": "00:00:05.000",
        "note-b": "00:00:03.000",
        "note-c": "00:00:09.000",
    }


def test_what_has_no_moment_or_another_clip_is_in_no_track() -> None:
    elsewhere = a_moment("a", 1.0, 2.0, clip="another", text="x")
    timeless = a_moment("b", None, None, text="x")
    wordless = a_moment("c", 1.0, 2.0)
    assert blocks(captions(sent(elsewhere, timeless, wordless), a_clip())) == []
    assert blocks(chapters(sent(), a_clip(a_call(1, None, None)))) == []


def test_reps_are_chapters() -> None:
    bad = a_call(2, 3.0, 5.0, call="not-standard", faults=["Hips rise first", "Soft lockout"])
    unsure = a_call(3, 5.0, 8.0, call="cannot-tell")
    file = chapters(sent(), a_clip(a_call(1, 0.0, 2.5), bad, unsure))
    held_to_the_standard(file)
    assert [cue.text for cue in webvtt.from_string(file)] == [
        "Rep 1: to standard",
        "Rep 2: not to standard, Hips rise first, Soft lockout",
        "Rep 3: can't tell from this angle",
    ]


def test_a_time_is_written_as_the_standard_reads_it() -> None:
    """01:02.003 is 62.003 s and 100:00:00.000 is 360 000 s in the standard's own reading."""
    assert timestamp(62_003) == "00:01:02.003"
    assert timestamp(360_000_000) == "100:00:00.000"


@pytest.mark.parametrize(("start", "end"), [(5, 5), (5, 4), (-1, 4)])
def test_a_cue_that_never_shows_is_refused(start: int, end: int) -> None:
    with pytest.raises(ValueError, match="would show"):
        written([Cue(name="a", start=start, end=end, words="x")])


@pytest.mark.parametrize("words", HOSTILE)
def test_no_words_break_the_file(words: str) -> None:
    moments = [a_moment(str(at), float(at), at + 1.0, text=words) for at in range(3)]
    found = held_to_the_standard(captions(sent(*moments), a_clip()))
    assert len(found) == 3
    said = unescape("\n".join(found[0][2:])).split()
    assert said == "".join(c if c.isprintable() or c in "‍️‮" else " " for c in words).split()


WORDS = st.text(st.characters(), max_size=200)  # surrogates and control characters too
TIMES = st.tuples(st.integers(0, 400_000), st.integers(1, 60_000)).map(
    lambda pair: (pair[0] / 1000, (pair[0] + pair[1]) / 1000)
)


@settings(max_examples=60)
@given(st.lists(st.tuples(WORDS, WORDS, TIMES), max_size=8))
def test_any_notes_make_a_valid_file(notes: list[tuple[str, str, tuple[float, float]]]) -> None:
    moments = [
        a_moment(str(at), *times, text=text, fault=fault)
        for at, (text, fault, times) in enumerate(notes)
    ]
    file = captions(sent(*moments), a_clip(seconds=500.0))
    found = held_to_the_standard(file)
    assert len(found) == sum(bool(payload(f"{m['fault']}\n{m['text']}")) for m in moments)
    assert len(webvtt.from_string(file)) == len(found)


@given(st.lists(TIMES, max_size=8))
def test_chapters_never_lie_partly_over_each_other(times: list[tuple[float, float]]) -> None:
    """The standard's counter-example: 0:00 to 1:00 with 0:30 to 1:30."""
    calls = [a_call(rep, *span) for rep, span in enumerate(times, start=1)]
    found = held_to_the_standard(chapters(sent(), a_clip(*calls)))
    assert len(found) == len(times)
    spans = [tuple(map(milliseconds, block[1].split(" --> "))) for block in found]
    for (start, end), (other, other_end) in combinations(spans, 2):
        assert not start < other < end < other_end
