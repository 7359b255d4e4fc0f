"""Boxes by hand: layouts from ISO/IEC 14496-12, section 4.2."""

import io
import struct
from itertools import pairwise
from pathlib import Path

import pytest

from reviews.media.boxes import Box, walk
from reviews.media.refusals import Refused
from tests.reviews.media.watch import is_fast_start, top_level


def box(kind: bytes, body: bytes = b"") -> bytes:
    return struct.pack(">I4s", 8 + len(body), kind) + body


def write(tmp_path: Path, *boxes: bytes) -> Path:
    path = tmp_path / "boxes.mp4"
    path.write_bytes(b"".join(boxes))
    return path


def test_offsets_are_contiguous(tmp_path: Path) -> None:
    path = write(tmp_path, box(b"ftyp", bytes(16)), box(b"moov", bytes(92)), box(b"mdat", bytes(5)))
    found = top_level(path)
    assert [(b.kind, b.start, b.size) for b in found] == [
        (b"ftyp", 0, 24),
        (b"moov", 24, 100),
        (b"mdat", 124, 13),
    ]
    assert all(a.end == b.start for a, b in pairwise(found))
    assert is_fast_start(path)


def test_index_at_the_end_is_not_a_fast_start(tmp_path: Path) -> None:
    assert not is_fast_start(write(tmp_path, box(b"ftyp"), box(b"mdat"), box(b"moov")))


def test_long_size() -> None:
    data = struct.pack(">I4sQ", 1, b"mdat", 20) + bytes(4)
    assert list(walk(io.BytesIO(data), 0, 20)) == [Box(b"mdat", 0, 20, 16)]


def test_size_zero_runs_to_the_end() -> None:
    data = struct.pack(">I4s", 0, b"mdat") + bytes(30)
    assert list(walk(io.BytesIO(data), 0, 38)) == [Box(b"mdat", 0, 38, 8)]


@pytest.mark.parametrize("data", [struct.pack(">I4s", 7, b"moov"), struct.pack(">I4s", 1, b"moov")])
def test_impossible_size(data: bytes) -> None:
    with pytest.raises(Refused, match="damaged"):
        list(walk(io.BytesIO(data), 0, len(data)))
