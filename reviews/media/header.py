"""What an MP4 or MOV promises about itself, checked before libav sees it.

Cheap, cannot crash, and can tell a cut file from a broken one, which a decoder cannot. What it
says of its length is not asked: the frames tell (probe_child.py).
Section numbers are those of ISO/IEC 14496-12.
"""

from itertools import islice
from pathlib import Path
from typing import BinaryIO

from reviews.media.boxes import Box, inside, walk
from reviews.media.limits import Limits
from reviews.media.refusals import Refused

_MOST_BOXES = 4096  # inside moov; a camera writes about a hundred
_MOST_OUTER = 100_000  # a fragmented file has a pair of them every second or so


def check(path: Path, limits: Limits) -> None:
    """Refuse a file that cannot be whole: unfinished, cut off, linked, or monstrous."""
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
    found = list(islice(inside(file, moov), _MOST_BOXES + 1))
    if len(found) > _MOST_BOXES:
        raise Refused("damaged", "too many boxes")
    if sum(box.kind == b"trak" for box in found) > limits.max_streams:
        raise Refused("too_many_parts")
    for box in found:
        if box.kind == b"dref":
            _check_self_contained(file, box)


def _check_self_contained(file: BinaryIO, dref: Box) -> None:
    """Refuse media kept in another file: its path could be anybody's (section 8.7.2)."""
    for entry in walk(file, dref.body + 8, dref.end):
        flags = int.from_bytes(_body(file, entry, 4), "big") & 0xFFFFFF
        if not flags & 1:
            raise Refused("linked")


def _body(file: BinaryIO, box: Box, most: int) -> bytes:
    file.seek(box.body)
    return file.read(min(most, box.end - box.body))
