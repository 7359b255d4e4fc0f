"""What the page shows of a clip is true: tiles, waveform, colours, sound in its place."""

import json
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import av
import numpy as np
import pytest
from PIL import Image

from reviews.media.limits import Limits
from reviews.media.process import process
from tests.reviews.media.conftest import Processed
from tests.reviews.media.encodes import run_ffmpeg
from tests.reviews.media.picture import BLUE, GREEN, GREY, RED, WHITE, read_number
from tests.reviews.media.watch import watch

TILED = ["h264.mp4", "fitting.mp4", "uneven.mkv", "fps120.mp4", "turned_90.mov", "trimmed.mp4"]


@pytest.mark.parametrize("name", TILED)
def test_each_tile_shows_its_frame(name: str, processed: Callable[[str], Processed]) -> None:
    clip = processed(name)
    strip = clip.made.filmstrip
    numbers = watch(clip.file("playable")).numbers
    with Image.open(clip.file("filmstrip")) as sheet:
        for n, frame in enumerate(strip.frames):
            x, y = n % strip.columns * strip.tile_width, n // strip.columns * strip.tile_height
            tile = sheet.crop((x, y, x + strip.tile_width, y + strip.tile_height))
            assert read_number(np.asarray(tile)) == numbers[frame]
    with Image.open(clip.file("poster")) as poster:
        assert read_number(np.asarray(poster)) in numbers


@pytest.mark.parametrize("name", ["h264.mp4", "hlg.mov", "pq.mp4", "odd_hlg.mov", "hevc_10bit.mov"])
def test_colours_survive(name: str, processed: Callable[[str], Processed]) -> None:
    """The HDR kinds are the SDR picture at graphics white (ITU-R BT.2408, section 2.1: 203 cd/m2).

    So bringing them back must give the drawn colours; near white the tone curve takes its part.
    """
    image = watch(processed(name).file("playable")).first.astype(float)
    height, width = image.shape[:2]
    for colour, y, x, off in [
        (RED, 0.11, 0.12, 14),
        (GREEN, 0.11, 0.88, 14),
        (BLUE, 0.89, 0.12, 14),
        (WHITE, 0.89, 0.88, 25),
        ((GREY,) * 3, 0.3, 0.5, 14),
    ]:
        at_y, at_x = int(y * height), int(x * width)
        patch = image[at_y - 6 : at_y + 6, at_x - 6 : at_x + 6].mean(axis=(0, 1))
        assert np.abs(patch - colour).max() < off, (colour, patch)


@pytest.mark.parametrize("late", [0.0, 0.2, -0.2])
def test_sound_keeps_its_place(late: float, encoded: Callable[[str], Path], tmp_path: Path) -> None:
    """A tone that begins 0.5 s into the pictures does so in the playable and the waveform.

    `late` is how much later than the pictures the sound track begins, as phones write it.
    """
    begins = 0.5 - late
    tone = f"aevalsrc='0.5*sin(2*PI*440*t)*gte(t,{begins})':d=1.2:s=48000"
    source = tmp_path / "source.mp4"
    pictures = ["-itsoffset", str(max(0.0, -late)), "-i", str(encoded("silent.mp4"))]
    sound = ["-f", "lavfi", "-itsoffset", str(max(0.0, late)), "-i", tone]
    run_ffmpeg([*pictures, *sound, "-map", "0:v", "-map", "1:a", "-c:v", "copy", str(source)])
    out = tmp_path / "out"
    made = process(source, out, on_progress=lambda _share: None, limits=Limits())
    assert _tone_begins(out / made.files["playable"]) == pytest.approx(0.5, abs=0.03)
    shape = json.loads((out / made.files["waveform"]).read_text())
    first = next(n for n, peak in enumerate(shape["peaks"]) if peak > 20)
    at = first / len(shape["peaks"]) * shape["seconds"]
    assert at == pytest.approx(0.5, abs=0.03)


def _tone_begins(path: Path) -> float:
    with av.open(str(path)) as container:
        for frame in container.decode(audio=0):
            loud = np.flatnonzero(np.abs(frame.to_ndarray()[0]) > 0.1)
            if loud.size:
                return float(frame.pts * frame.time_base) + loud[0] / frame.sample_rate
    raise AssertionError("no tone at all")


def test_slow_motion_says_so(processed: Callable[[str], Processed]) -> None:
    """Stored at 30 pictures a second, filmed at 240: eight seconds played are one lifted."""
    clip = processed("slowed.mp4")
    assert clip.made.time_scale == pytest.approx(8.0)
    assert json.loads(clip.file("frames").read_text())["time_scale"] == clip.made.time_scale


def test_trimmed_on_the_phone(processed: Callable[[str], Processed]) -> None:
    """Pictures that an edit list hides stay hidden, and the first shown is frame 0."""
    seen = watch(processed("trimmed.mp4").file("playable"))
    assert seen.numbers == list(range(12, 24))
    assert seen.times[0] == 0


def test_doubled_times_are_parted(processed: Callable[[str], Processed]) -> None:
    """Two frames at one time would make one of them unreachable: the second comes a bit later."""
    clip = processed("doubled.mp4")
    assert watch(clip.file("playable")).numbers == list(range(24))
    pts = json.loads(clip.file("frames").read_text())["pts"]
    assert pts[::2] == list(range(0, 12 * 1024, 1024)), "the first of each pair keeps its time"
    assert min(after - before for before, after in pairwise(pts)) >= 512 // 10
