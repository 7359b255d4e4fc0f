"""Look at a video file the way a player would: decoded frames, their times, their colours.

Reads with libav through PyAV directly, not through the code under test; only the order of boxes,
which libav does not tell, with the reader that has its own tests.
"""

from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path

import av
import numpy as np

from reviews.media.boxes import Box, walk
from tests.reviews.media.picture import Image, read_corners, read_number


@dataclass(frozen=True)
class Watched:
    codec: str
    profile: str
    pix_fmt: str
    size: tuple[int, int]
    times: list[Fraction]
    numbers: list[int]
    corners: tuple[str, str, str, str]
    colour: tuple[int, int, int, int]  # primaries, transfer, matrix, range (ITU-T H.273)
    rotation: int
    keyframes: list[int]
    sound: tuple[str, int] | None
    first: Image


def watch(path: Path) -> Watched:
    with av.open(str(path)) as container:
        video = container.streams.video[0]
        sound = [(s.codec_context.name, s.codec_context.channels) for s in container.streams.audio]
        frames = list(container.decode(video))
        images = [_as_shown(frame) for frame in frames]
        first = frames[0]
        return Watched(
            codec=video.codec_context.codec.canonical_name,
            profile=str(video.codec_context.profile),
            pix_fmt=first.format.name,
            size=(first.width, first.height),
            times=[frame.pts * frame.time_base for frame in frames],
            numbers=[read_number(image) for image in images],
            corners=read_corners(images[0]),
            colour=(
                int(first.color_primaries),
                int(first.color_trc),
                int(first.colorspace),
                int(first.color_range),
            ),
            rotation=first.rotation,
            keyframes=[n for n, frame in enumerate(frames) if frame.key_frame],
            sound=sound[0] if sound else None,
            first=images[0],
        )


def _as_shown(frame: av.VideoFrame) -> Image:
    """Turned the way its display matrix asks (PyAV gives degrees counter-clockwise)."""
    return np.rot90(frame.to_ndarray(format="rgb24"), frame.rotation // 90)


def source_times(path: Path) -> list[Fraction]:
    """When each frame of a source is shown, counted from its first."""
    with av.open(str(path)) as container:
        frames = [frame.pts * frame.time_base for frame in container.decode(video=0)]
    return [time - frames[0] for time in frames]


def tracks(path: Path) -> list[str]:
    with av.open(str(path)) as container:
        return sorted(stream.type for stream in container.streams)


def words(path: Path) -> dict[str, str]:
    """Every tag that libav finds, of the file and of its tracks."""
    with av.open(str(path)) as container:
        found = dict(container.metadata)
        for stream in container.streams:
            found |= {f"{stream.index}.{key}": value for key, value in stream.metadata.items()}
    return found


def top_level(path: Path) -> list[Box]:
    """The outermost boxes of a file, in order."""
    with path.open("rb") as file:
        return list(walk(file, 0, path.stat().st_size))


def is_fast_start(path: Path) -> bool:
    """True when `moov` stands before `mdat`, so that playing can begin with the first bytes."""
    kinds = [box.kind for box in top_level(path)]
    return b"moov" in kinds and b"mdat" in kinds and kinds.index(b"moov") < kinds.index(b"mdat")
