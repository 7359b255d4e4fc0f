"""Decodes a clip with PyAV (FFmpeg's libraries, not the ffmpeg process that wrote it)."""

from collections.abc import Iterator
from fractions import Fraction
from pathlib import Path

import av
import numpy as np


def upright_frames(video: Path) -> Iterator[tuple[Fraction, np.ndarray]]:
    """Presentation time in seconds and upright RGB picture of every frame."""
    with av.open(str(video)) as file:
        for frame in file.decode(video=0):
            picture = frame.to_ndarray(format="rgb24")
            yield frame.pts * frame.time_base, np.rot90(picture, frame.rotation // 90)
