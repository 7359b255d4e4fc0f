"""Clips with a burnt-in counter: three steady rates, an uneven one, and one that lay on its side
when it was sent and went through our own pipeline."""

from __future__ import annotations

import json
import subprocess
from fractions import Fraction
from pathlib import Path

import av
import numpy as np

from reviews.media.limits import Limits
from reviews.media.tools import ffmpeg_exe
from reviews.media.trying import try_clip
from tests.browser.player import clips

COUNT = 120
NAMES = ["30fps", "60fps", "240fps", "variable", "rotated"]


def make(folder: Path, name: str) -> None:
    """`name`.mp4 and its frame table, `name`.json."""
    if name == "rotated":
        rotated(folder)
    elif name == "variable":
        clips.write_pair(folder, name, clips.variable(COUNT), b_frames=0)
    else:
        rate = int(name.removesuffix("fps"))
        times = [number * clips.TICKS // rate for number in range(COUNT)]
        clips.write_pair(folder, name, times, b_frames=0, rate=rate)


def rotated(folder: Path) -> None:
    """As a phone writes it: the pictures lie on their side, and the file says how to turn them."""
    lying, sent = folder / "lying.mp4", folder / "sent.mp4"
    write_lying(lying)
    turn = [ffmpeg_exe(), "-v", "error", "-display_rotation", "-90", "-i", str(lying)]
    subprocess.run([*turn, "-c", "copy", str(sent)], check=True, timeout=60)
    made = try_clip(sent, folder / "made", Limits())
    assert (made["outcome"], made["width"], made["height"]) == ("playable", 360, 640), made
    Path(made["outputs"]["playable"]).replace(folder / "rotated.mp4")
    table = Path(made["outputs"]["frames"]).read_text()
    assert len(json.loads(table)["pts"]) == COUNT
    (folder / "rotated.json").write_text(table)


def write_lying(path: Path) -> None:
    with av.open(str(path), "w") as box:
        stream = box.add_stream("libx264", rate=30)
        stream.width, stream.height, stream.pix_fmt = clips.HEIGHT, clips.WIDTH, "yuv420p"
        stream.time_base = stream.codec_context.time_base = Fraction(1, clips.TICKS)
        for number, time in enumerate(clips.constant(COUNT)):
            pixels = np.ascontiguousarray(np.rot90(clips.picture(number)))
            frame = av.VideoFrame.from_ndarray(pixels, format="rgb24")
            frame.pts, frame.time_base = time, Fraction(1, clips.TICKS)
            box.mux(stream.encode(frame))
        box.mux(stream.encode(None))
