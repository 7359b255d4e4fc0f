"""What a file is by its first bytes, before libav sees any of it.

A text playlist under a video name makes a default libav open whatever files it lists, another
athlete's clip included. So only the two container families we accept get past this point, and the
demuxer is then named rather than guessed.
"""

from pathlib import Path

from reviews.media.refusals import Refused

_MP4_FIRST_BOXES = {b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip", b"pnot"}
_EBML = b"\x1aE\xdf\xa3"  # RFC 8794, section 11.2.1
_PICTURE_BRANDS = {b"heic", b"heix", b"mif1", b"msf1", b"avif", b"avis"}
_PICTURES = (b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"BM", b"II*\x00", b"MM\x00*")
_OTHER_VIDEO = (b"OggS", b"FLV\x01", b"\x00\x00\x01\xba", b"\x00\x00\x01\xb3", b"0&\xb2u")


def sniff(path: Path) -> str:
    """The demuxer for `path`: "mov" or "matroska". Raises Refused for everything else."""
    with path.open("rb") as file:
        head = file.read(4096)
    if not head:
        raise Refused("empty")
    if head[4:8] == b"ftyp" and head[8:12] in _PICTURE_BRANDS:
        raise Refused("picture")
    if head[4:8] in _MP4_FIRST_BOXES:
        return "mov"
    if head.startswith(_EBML):
        return "matroska"
    raise Refused(_name(head))


def _name(head: bytes) -> str:
    if head.startswith(_PICTURES):
        return "picture"
    if head[:4] == b"RIFF":
        return "picture" if head[8:12] == b"WEBP" else "unknown_kind"
    if head.startswith(_OTHER_VIDEO) or (head[:1] == b"G" and head[188:189] == b"G"):
        return "unknown_kind"
    return "not_a_video"
