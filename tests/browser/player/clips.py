"""Clips with a burnt-in counter, and their frame tables, made with PyAV (H.264 in MP4).

Each picture carries its own number as sixteen black or white squares, so that what is on the
screen can be read back from its pixels and compared with what the player says it shows.
"""

from __future__ import annotations

import json
import random
from fractions import Fraction
from pathlib import Path
from typing import Any

import av
import numpy as np

WIDTH, HEIGHT, SQUARE, BITS = 360, 640, 20, 16
TICKS = 90000


def picture(number: int, size: tuple[int, int] = (WIDTH, HEIGHT)) -> np.ndarray:
    """A grey picture with something that moves and the number in squares along the top."""
    width, height = size
    frame = np.full((height, width, 3), 96, np.uint8)
    low = 60 + (number * 7) % (height - 140)
    frame[low : low + 60, 40 : width - 40] = (190, 120, 60)
    for bit in range(BITS):
        frame[:SQUARE, bit * SQUARE : (bit + 1) * SQUARE] = 255 if number >> bit & 1 else 0
    return frame


def constant(count: int = 120) -> list[int]:
    """Presentation times of a 30 frames per second clip, in ticks."""
    return [number * TICKS // 30 for number in range(count)]


def variable(count: int = 120) -> list[int]:
    """A phone's uneven times: 8 to 60 ms between frames, one long gap, seeded."""
    chance = random.Random(7)
    times = [0]
    while len(times) < count:
        gap = 270 if len(times) == 50 else chance.randint(8, 60)
        times.append(times[-1] + gap * TICKS // 1000)
    return times


def slightly_uneven(count: int = 120) -> list[int]:
    """Gaps of 26 to 38 ms, worst just before each key frame: where B-frames mislead a seek."""
    gaps = [26 if number % 15 < 10 else 38 for number in range(count)]
    return [sum(gaps[:number]) * TICKS // 1000 for number in range(count)]


def write(
    path: Path,
    times: list[int],
    *,
    group: int = 15,
    b_frames: int = 2,
    size: tuple[int, int] = (WIDTH, HEIGHT),
    rate: int = 30,
) -> dict[str, object]:
    """Encode one picture per time, of which the last lasts as `rate` says; return the frame table
    as the server serves it."""
    with av.open(str(path), "w", options={"movflags": "faststart"}) as box:
        stream = box.add_stream("libx264", rate=rate)
        stream.width, stream.height = size
        stream.pix_fmt = "yuv420p"
        stream.time_base = stream.codec_context.time_base = Fraction(1, TICKS)
        stream.options = {
            "preset": "veryfast",
            "crf": "23",
            "tune": "fastdecode",
            "g": str(group),
            "bf": str(b_frames),
            "sc_threshold": "0",
        }
        for number, time in enumerate(times):
            frame = av.VideoFrame.from_ndarray(picture(number, size), format="rgb24")
            frame.pts, frame.time_base = time, Fraction(1, TICKS)
            box.mux(stream.encode(frame))
        box.mux(stream.encode(None))
    return table(path)


def table(path: Path) -> dict[str, object]:
    """The frame table of a file as PyAV (libavformat) reads it back."""
    with av.open(str(path)) as box:
        stream = box.streams.video[0]
        packets = [packet for packet in box.demux(stream) if packet.pts is not None]
        scale = Fraction(stream.time_base) * TICKS
        pts = sorted(int(packet.pts * scale) for packet in packets)
        last = max(packets, key=lambda packet: packet.pts)
        end = int((last.pts + (last.duration or 0)) * scale)
    return {"version": 1, "timescale": TICKS, "pts": pts, "duration": end, "time_scale": 1}


def write_pair(folder: Path, name: str, times: list[int], **options: Any) -> None:
    """`name`.mp4 beside `name`.json."""
    facts = write(folder / f"{name}.mp4", times, **options)
    (folder / f"{name}.json").write_text(json.dumps(facts))
