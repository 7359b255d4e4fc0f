"""MP4 and QuickTime boxes: a small reader.

Box = 4-byte big-endian size, 4-byte type; size 1: a 64-bit size follows; size 0: to the end of
the file (ISO/IEC 14496-12, section 4.2).
"""

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import BinaryIO

from reviews.media.refusals import Refused

_CONTAINERS = {b"moov", b"trak", b"mdia", b"minf", b"dinf", b"stbl", b"edts", b"mvex"}
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


def inside(file: BinaryIO, parent: Box, depth: int = 1) -> Iterator[Box]:
    """All boxes below `parent`, depth first; Refused("damaged") unless each fits its parent."""
    if depth > _DEEPEST:
        raise Refused("damaged", "boxes nested without end")
    for box in walk(file, parent.body, parent.end):
        if box.end > parent.end:
            raise Refused("damaged", f"box {box.kind!r} is larger than {parent.kind!r}")
        yield box
        if box.kind in _CONTAINERS:
            yield from inside(file, box, depth + 1)
