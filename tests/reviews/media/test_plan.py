"""What is made of what: decided without touching a file."""

from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviews.media.plan import fits, plan, playable_size, playable_timescale, spread, without_remux
from tests.reviews.media.sources import AUDIO, SOURCE, with_audio, with_video


def test_a_fitting_source_is_remuxed() -> None:
    wanted = plan(SOURCE)
    assert wanted.remux
    assert wanted.audio == "copy"
    assert set(wanted.picks) <= set(SOURCE.video.keyframes), "key frames decode alone"


@pytest.mark.parametrize(
    "facts",
    [
        {"codec": "hevc"},
        {"profile": "High 10"},
        {"pix_fmt": "yuvj420p"},
        {"pix_fmt": "yuv444p"},
        {"transfer": 18},
        {"transfer": 16},
        {"primaries": 9},
        {"full_range": True},
        {"interlaced": True},
        {"orientation": (0, 1, -1, 0)},
        {"sample_aspect": Fraction(4, 3)},
        {"width": 1920, "height": 1080},
        {"width": 1279},
        {"closed_keyframes": False},
        {"keyframes": (0, 16, 30)},
        {"keyframes": (1, 15)},
        {"trimmed": 1},
        {"pts": (0, 3000, 3000, 6000)},
        {"pts": (900, 3000, 6000)},
        {"time_base": Fraction(1, 30)},
        {"size": 5_000_000},
        {"pts": (0, 3000, 9000), "reordered": True},
    ],
    ids=str,
)
def test_what_does_not_fit_is_transcoded(facts: dict[str, object]) -> None:
    source = with_video(**facts)
    assert not fits(source)
    assert not plan(source).remux


@pytest.mark.parametrize(
    ("facts", "audio"),
    [
        ({}, "copy"),
        ({"codec": "opus"}, "encode"),
        ({"profile": "HE-AAC"}, "encode"),
        ({"channels": 6}, "encode"),
        ({"rate": 8000}, "encode"),
        ({"start": 99.0}, "none"),
    ],
    ids=str,
)
def test_sound(facts: dict[str, object], audio: str) -> None:
    assert plan(with_audio(**facts)).audio == audio


def test_no_sound() -> None:
    assert plan(replace(SOURCE, audio=None)).audio == "none"


def test_a_transcode_encodes_the_sound() -> None:
    assert AUDIO.codec == "aac"
    assert without_remux(plan(SOURCE), SOURCE).audio == "encode"


@pytest.mark.parametrize(
    ("facts", "size"),
    [
        ({"width": 3840, "height": 2160}, (1280, 720)),
        ({"width": 3840, "height": 2160, "orientation": (0, 1, -1, 0)}, (720, 1280)),
        ({"width": 640, "height": 360}, (640, 360)),
        ({"width": 641, "height": 361}, (640, 360)),
        ({"width": 1, "height": 1}, (2, 2)),
        ({"width": 1440, "height": 1080, "sample_aspect": Fraction(4, 3)}, (1280, 720)),
        ({"width": 720, "height": 576, "sample_aspect": Fraction(16, 15)}, (768, 576)),
    ],
)
def test_size(facts: dict[str, object], size: tuple[int, int]) -> None:
    assert playable_size(with_video(**facts)) == size


@given(st.integers(1, 8000), st.integers(1, 4000), st.sampled_from([(1, 0, 0, 1), (0, 1, -1, 0)]))
def test_size_is_even_and_bounded(width: int, height: int, orientation: tuple[int, ...]) -> None:
    wide, high = playable_size(with_video(width=width, height=height, orientation=orientation))
    assert wide % 2 == high % 2 == 0
    assert 2 <= max(wide, high) <= 1280


@pytest.mark.parametrize(
    ("time_base", "timescale"),
    [
        (Fraction(1, 90_000), 90_000),
        (Fraction(1, 600), 600),
        (Fraction(1, 30), 600),
        (Fraction(1, 15_360), 15_360),
        (Fraction(1, 1_000_000_000), 90_000),
        (Fraction(1001, 30_000), 90_000),
    ],
)
def test_timescale(time_base: Fraction, timescale: int) -> None:
    assert playable_timescale(time_base) == timescale


def test_filmstrip_is_even_in_time() -> None:
    """A burst of frames gets no more tiles than its share of time."""
    pts = (*range(100), *range(100, 1100, 100))
    assert spread(pts, 10, range(len(pts))) == (50, 100, 101, 102, 103, 104, 105, 106, 107, 108)


@given(st.lists(st.integers(1, 500), min_size=1, max_size=300), st.integers(1, 60))
def test_spread_stays_in_order(gaps: list[int], most: int) -> None:
    pts = tuple(sum(gaps[:n]) for n in range(len(gaps)))
    picks = spread(pts, most, range(len(pts)))
    assert 1 <= len(picks) <= most
    assert list(picks) == sorted(set(picks))
    assert picks[-1] < len(pts)
