"""Every kind of clip, really encoded, becomes correctly playable."""

import json
from collections.abc import Callable
from fractions import Fraction

import pytest
from PIL import Image

from tests.reviews.media.conftest import Processed
from tests.reviews.media.encodes import KINDS, UPRIGHT
from tests.reviews.media.watch import is_fast_start, source_times, tracks, watch, words

NAMES = [kind.name for kind in KINDS]
BT709 = (1, 1, 1)  # ITU-T H.273: primaries, transfer, matrix
TV_RANGE = 1
KEPT_TAGS = {"major_brand", "minor_version", "compatible_brands", "DURATION"}
every_kind = pytest.mark.parametrize("name", NAMES)


@every_kind
def test_pictures(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    seen = watch(clip.file("playable"))
    assert (seen.codec, seen.pix_fmt) == ("h264", "yuv420p")
    assert seen.size == clip.kind.size == (clip.made.width, clip.made.height)
    assert seen.numbers == list(range(clip.kind.frames)), "no frame lost, doubled or moved"
    assert seen.corners == UPRIGHT
    assert seen.rotation == 0
    assert (
        max(
            b - a
            for a, b in zip(seen.keyframes, [*seen.keyframes[1:], clip.kind.frames], strict=True)
        )
        <= 15
    )


@every_kind
def test_times_are_the_sources(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    wanted = source_times(clip.source)
    table = json.loads(clip.file("frames").read_text())
    listed = [Fraction(pts, table["timescale"]) for pts in table["pts"]]
    assert listed == wanted, "the table has the source's own times, exactly"
    assert watch(clip.file("playable")).times == listed, "and so has the playable"
    assert table["version"] == 1
    assert table["time_scale"] == 1.0
    assert table["duration"] > table["pts"][-1]
    assert clip.made.frames == len(wanted)
    assert clip.made.seconds == pytest.approx(table["duration"] / table["timescale"], abs=1e-6)


@pytest.mark.parametrize("name", [name for name in NAMES if "uneven" not in name])
def test_last_frame_has_its_time(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    table = json.loads(clip.file("frames").read_text())
    last = (table["duration"] - table["pts"][-1]) / table["timescale"]
    assert last == pytest.approx(1 / Fraction(clip.kind.rate), rel=0.6)


@every_kind
def test_sound(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    seen = watch(clip.file("playable"))
    if not clip.kind.channels:
        assert seen.sound is None
        assert "waveform" not in clip.made.files
        return
    assert seen.sound is not None
    codec, channels = seen.sound
    assert codec == "aac"
    assert channels <= 2
    shape = json.loads(clip.file("waveform").read_text())
    assert max(shape["peaks"]) > 3, "a sine at an eighth of full scale is not silence"
    assert shape["seconds"] == pytest.approx(clip.made.seconds, abs=1e-5)


@every_kind
def test_standard_range(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    if clip.made.remuxed:
        return  # its own colours, which `plan.fits` found to be standard
    seen = watch(clip.file("playable"))
    assert seen.profile == "High"
    assert seen.colour == (*BT709, TV_RANGE)


@every_kind
def test_served_files_say_nothing(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    for what in ("playable", "original"):
        found = words(clip.file(what))
        kept = {key for key in found if key.split(".")[-1] not in KEPT_TAGS}
        assert {key: found[key] for key in kept if not _harmless(key, found[key])} == {}
    for path in clip.folder.iterdir():
        data = path.read_bytes()
        assert b"Secret" not in data
        assert b"+47.37" not in data
        assert b"x264 - core" not in data or what == "original"


def _harmless(key: str, value: str) -> bool:
    """What the muxer writes of itself, the same for every clip."""
    ours = {
        "vendor_id": ("FFMP", "[0][0][0][0]"),
        "language": ("und",),
        "handler_name": ("",),
        "encoder": ("Lavf", "Lavc libx264"),
    }
    return value in ours.get(key.split(".")[-1], ())


@every_kind
def test_starts_fast(name: str, processed: Callable[[str], Processed]) -> None:
    """ISO/IEC 14496-12: boxes may stand in any order; moov first lets playing begin at once."""
    assert is_fast_start(processed(name).file("playable"))


@every_kind
def test_original_copy(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    copy = clip.file("original")
    assert watch(copy).numbers == list(range(clip.kind.frames))
    assert watch(copy).rotation == watch(clip.source).rotation
    assert watch(copy).codec == watch(clip.source).codec
    assert tracks(copy) == (["audio", "video"] if clip.kind.channels else ["video"])


@every_kind
def test_poster_and_filmstrip(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    strip = clip.made.filmstrip
    with Image.open(clip.file("poster")) as poster:
        assert poster.size == clip.kind.size
        assert not poster.getexif()
    with Image.open(clip.file("filmstrip")) as sheet:
        assert sheet.size == (strip.columns * strip.tile_width, strip.rows * strip.tile_height)
    assert strip.count == len(strip.frames) <= 60
    assert strip.count <= strip.columns * strip.rows
    assert strip.frames == sorted(set(strip.frames))
    assert 0 <= strip.frames[0] <= strip.frames[-1] < clip.made.frames


@every_kind
def test_progress_only_grows(name: str, processed: Callable[[str], Processed]) -> None:
    progress = processed(name).progress
    assert progress == sorted(progress)
    assert progress[-1] == 1.0
    assert all(0 <= share <= 1 for share in progress)
