"""MP4 and QuickTime boxes: a small reader, and the checks that need no decoder.

Box = 4-byte big-endian size, 4-byte type; size 1: a 64-bit size follows; size 0: to the end of
the file (ISO/IEC 14496-12, section 4.2).
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice
from pathlib import Path
from typing import BinaryIO

from reviews.media.limits import Limits
from reviews.media.refusals import Refused

_CONTAINERS = {b"moov", b"trak", b"mdia", b"minf", b"dinf", b"stbl", b"edts", b"mvex"}
_MOST_BOXES = 4096  # inside moov; a camera writes about a hundred
_MOST_OUTER = 100_000  # a fragmented file has a pair of them every second or so
_DEEPEST = 8  # moov, trak, mdia, minf, stbl, and some air


@dataclass(frozen=True)
class Box:
    """One box: its type, where it starts, its whole size, and the size of its header, in bytes."""

    kind: bytes
    start: int
    size: int
    header: int

    @property
    def body(self) -> int:
        return self.start + self.header

    @property
    def end(self) -> int:
        return self.start + self.size


def walk(file: BinaryIO, start: int, end: int) -> Iterator[Box]:
    """The boxes between two offsets, one level deep.

    The last box may claim to end after `end`; that is for the caller to judge. Raises
    Refused("damaged") for a size smaller than its own header.
    """
    while start + 8 <= end:
        file.seek(start)
        size, kind = struct.unpack(">I4s", file.read(8))
        header = 8
        if size == 1:
            long_size = file.read(8)
            if len(long_size) < 8:
                raise Refused("damaged", f"box {kind!r} has no size")
            size, header = struct.unpack(">Q", long_size)[0], 16
        elif size == 0:
            size = end - start
        if size < header:
            raise Refused("damaged", f"box {kind!r} is {size} bytes")
        yield Box(kind, start, size, header)
        start += size


def top_level(path: Path) -> list[Box]:
    """The outermost boxes of a file, in order."""
    with path.open("rb") as file:
        return list(walk(file, 0, path.stat().st_size))


def is_fast_start(path: Path) -> bool:
    """True when `moov` stands before `mdat`, so that playing can begin with the first bytes."""
    kinds = [box.kind for box in top_level(path)]
    return b"moov" in kinds and b"mdat" in kinds and kinds.index(b"moov") < kinds.index(b"mdat")


def check(path: Path, limits: Limits) -> None:
    """Refuse an MP4/MOV that cannot be whole: unfinished, cut off, linked, or monstrous."""
    length = path.stat().st_size
    with path.open("rb") as file:
        outer = list(islice(walk(file, 0, length), _MOST_OUTER + 1))
        if len(outer) > _MOST_OUTER:
            raise Refused("damaged", "too many boxes")
        moov = next((box for box in outer if box.kind == b"moov"), None)
        if moov is None:
            # A cut of an ordinary file loses `moov`, which cameras write last.
            raise Refused("unfinished")
        if any(box.end > length for box in outer if box.kind in (b"moov", b"mdat", b"moof")):
            raise Refused("cut_off", f"ends at {outer[-1].end} of {length} bytes")
        _check_movie(file, moov, limits)


def _check_movie(file: BinaryIO, moov: Box, limits: Limits) -> None:
    tracks = 0
    for seen, box in enumerate(_inside(file, moov)):
        tracks += box.kind == b"trak"
        if seen > _MOST_BOXES:
            raise Refused("damaged", "too many boxes")
        if tracks > limits.max_streams:
            raise Refused("too_many_parts")
        if box.kind == b"mvhd" and _seconds(file, box) > limits.max_seconds:
            raise Refused("too_long")
        if box.kind == b"dref":
            _check_self_contained(file, box)


def _inside(file: BinaryIO, parent: Box, depth: int = 1) -> Iterator[Box]:
    """All boxes below `parent`, depth first, each inside its own parent."""
    if depth > _DEEPEST:
        raise Refused("damaged", "boxes nested without end")
    for box in walk(file, parent.body, parent.end):
        if box.end > parent.end:
            raise Refused("damaged", f"box {box.kind!r} is larger than {parent.kind!r}")
        yield box
        if box.kind in _CONTAINERS:
            yield from _inside(file, box, depth + 1)


def _seconds(file: BinaryIO, mvhd: Box) -> float:
    """How long the movie says it is; 0 when it does not (14496-12, section 8.2.2)."""
    file.seek(mvhd.body)
    body = file.read(32)
    layout, at = (">IQ", 20) if body[:1] == b"\x01" else (">II", 12)
    if len(body) < at + struct.calcsize(layout):
        raise Refused("damaged", "mvhd is short")
    timescale, duration = struct.unpack_from(layout, body, at)
    unknown = duration in (0xFFFF_FFFF, 0xFFFF_FFFF_FFFF_FFFF)
    return 0.0 if unknown or not timescale else duration / timescale


def _check_self_contained(file: BinaryIO, dref: Box) -> None:
    """Refuse media kept in another file: its path could be anybody's (14496-12, section 8.7.2)."""
    for entry in walk(file, dref.body + 8, dref.end):
        file.seek(entry.body)
        flags = int.from_bytes(file.read(4), "big") & 0xFFFFFF
        if not flags & 1:
            raise Refused("linked")
