"""The words that ffmpeg gets: what protects us is always among them."""

from dataclasses import replace
from pathlib import Path

import pytest

from reviews.media import clean, graph
from reviews.media.limits import Limits
from reviews.media.plan import plan
from reviews.media.source import Source
from tests.reviews.media.sources import SOURCE, with_video

OUT = Path("out")
SOURCES = {
    "remux": SOURCE,
    "transcode": with_video(codec="hevc"),
    "hdr": with_video(codec="hevc", transfer=18, primaries=9, matrix=9),
    "matroska": replace(SOURCE, demuxer="matroska"),
}


def pair(words: list[str], name: str) -> str:
    return words[words.index(name) + 1]


@pytest.mark.parametrize("name", list(SOURCES))
@pytest.mark.parametrize("copying", [False, True])
def test_every_run_is_guarded(name: str, copying: bool) -> None:
    source, limits = SOURCES[name], Limits(max_seconds=60)
    words = (
        clean.arguments(source, OUT / "copy.mp4", limits)
        if copying
        else graph.arguments(source, plan(source), OUT, limits)
    )
    before_input = words[: words.index("-i")]
    assert "-nostdin" in before_input
    assert pair(before_input, "-f") == source.demuxer, "the demuxer is named, never guessed"
    assert pair(before_input, "-format_whitelist") == "mov,matroska,webm"
    assert pair(before_input, "-protocol_whitelist") == "file"
    assert pair(before_input, "-max_pixels") == str(limits.max_pixels)
    assert pair(before_input, "-max_streams") == str(limits.max_streams)
    assert pair(before_input, "-t") == "61"
    assert pair(words, "-i") == "input"
    for name in ("-map_metadata", "-map_metadata:s:v", "-map_metadata:s:a", "-map_chapters"):
        assert pair(words, name) == "-1"
    if source.demuxer == "mov":
        assert pair(before_input, "-enable_drefs") == "0"


def test_scaled_before_tone_mapping() -> None:
    source = SOURCES["hdr"]
    words = graph.arguments(source, plan(source), OUT, Limits())
    chain = pair(words, "-filter_complex")
    assert chain.index("]scale=") < chain.index("tonemap=") < chain.index("split=")


def test_one_process_decodes_once() -> None:
    source: Source = SOURCES["transcode"]
    words = graph.arguments(source, plan(source), OUT, Limits())
    assert words.count("-i") == 1
    for name in (graph.PLAYABLE, graph.POSTER, graph.TILES, graph.SOUND):
        assert str(OUT / name) in words


def test_turning_needs_every_case() -> None:
    """The eight ways a rectangle can lie: 4 turns, each also mirrored."""
    for orientation in [
        (s * a, s2 * b, s3 * c, s4 * d)
        for a, b, c, d in [(1, 0, 0, 1), (0, 1, 1, 0)]
        for s, s2, s3, s4 in [(1, 1, 1, 1), (-1, -1, -1, -1), (1, 1, -1, -1), (-1, -1, 1, 1)]
    ]:
        source = with_video(orientation=orientation)
        assert graph.arguments(source, plan(source), OUT, Limits())
