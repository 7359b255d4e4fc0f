"""From ffmpeg's raw frames and samples to what the page shows: poster, filmstrip, waveform."""

import json
from array import array
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from PIL import Image

from reviews.media.plan import Plan
from reviews.media.refusals import Refused

COLUMNS = 10
_PEAKS = 1000
_FULL_SCALE = 32768
_QUALITY = 80


@dataclass(frozen=True, kw_only=True)
class Filmstrip:
    """A sprite of `count` tiles in rows of `columns`; `frames` has the frame number of each."""

    columns: int
    rows: int
    tile_width: int
    tile_height: int
    count: int
    frames: list[int]


def poster(raw: Path, plan: Plan, into: Path) -> None:
    """Write the raw RGB frame in `raw` as a JPEG. Raises Refused when there is none."""
    size = plan.width * plan.height * 3
    data = raw.read_bytes()[:size]
    if len(data) < size:
        raise Refused("damaged", "no frame for the poster")
    picture = Image.frombytes("RGB", (plan.width, plan.height), data)
    picture.save(into, "JPEG", quality=_QUALITY, progressive=True, optimize=True)


def filmstrip(raw: Path, plan: Plan, into: Path) -> Filmstrip:
    """Lay the raw RGB thumbnails in `raw` out as one JPEG and say what is where."""
    wide, high = plan.tile_width, plan.tile_height
    size = wide * high * 3
    data = raw.read_bytes()
    frames = list(plan.picks[: len(data) // size])
    if not frames:
        raise Refused("damaged", "no frame for the filmstrip")
    columns = min(COLUMNS, len(frames))
    rows = -(-len(frames) // columns)
    sheet = Image.new("RGB", (columns * wide, rows * high))
    for n in range(len(frames)):
        tile = Image.frombytes("RGB", (wide, high), data[n * size : (n + 1) * size])
        sheet.paste(tile, (n % columns * wide, n // columns * high))
    sheet.save(into, "JPEG", quality=_QUALITY, optimize=True)
    return Filmstrip(
        columns=columns,
        rows=rows,
        tile_width=wide,
        tile_height=high,
        count=len(frames),
        frames=frames,
    )


def waveform(raw: Path, seconds: float, into: Path) -> bool:
    """Write the loudest sample of each stretch, 0 to 100, as JSON; False when there is no sound.

    Shape: {"version": 1, "seconds": s, "peaks": [...]}: the first peak begins at the first frame
    and the last ends at `seconds`. Numbers, so that the page draws them in its own colours.
    """
    samples = array("h", raw.read_bytes()) if raw.exists() else array("h")
    if not samples:
        return False
    count = min(_PEAKS, len(samples))
    edges = [len(samples) * n // count for n in range(count + 1)]
    peaks = []
    for start, end in pairwise(edges):
        part = samples[start:end]
        peaks.append(round(100 * min(1.0, max(max(part), -min(part)) / _FULL_SCALE)))
    shape = {"version": 1, "seconds": round(seconds, 6), "peaks": peaks}
    into.write_text(json.dumps(shape, separators=(",", ":")))
    return True
