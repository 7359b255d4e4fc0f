"""Files that are not clips: broken, pretending, or meant to do harm."""

import random
import struct
from collections.abc import Callable
from pathlib import Path

from tests.reviews.media.encodes import run_ffmpeg
from tests.reviews.media.watch import top_level

Write = Callable[[Path], None]

_PICTURE = ["-f", "lavfi", "-i", "testsrc2=s=320x180:r=30:d=2"]
_TONE = ["-f", "lavfi", "-i", "sine=d=2"]
_QUICK = ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p"]


def text(words: str) -> Write:
    return lambda path: path.with_suffix(path.suffix).write_text(words) and None


def clip(path: Path, *options: str) -> None:
    run_ffmpeg([*_PICTURE, *_TONE, *_QUICK, *options, str(path)])


def empty(path: Path) -> None:
    path.touch()


def noise(path: Path) -> None:
    path.write_bytes(random.Random(1).randbytes(200_000))


def noise_called_mp4(path: Path) -> None:
    """Right first box, then nonsense."""
    head = struct.pack(">I4s4sI4s", 20, b"ftyp", b"isom", 0, b"isom")
    path.write_bytes(head + random.Random(2).randbytes(200_000))


def png(path: Path) -> None:
    run_ffmpeg([*_PICTURE, "-frames:v", "1", "-f", "image2", "-c:v", "png", str(path)])


def no_moov(path: Path) -> None:
    clip(path)
    data = path.read_bytes()
    kept = [data[b.start : b.end] for b in top_level(path) if b.kind != b"moov"]
    path.write_bytes(b"".join(kept))


def cut(*options: str, share: float = 0.6) -> Write:
    def write(path: Path) -> None:
        clip(path, *options)
        data = path.read_bytes()
        path.write_bytes(data[: int(len(data) * share)])

    return write


def cut_with_repaired_boxes(path: Path) -> None:
    """Cut at 60 % and the last box shortened to fit: ffmpeg itself ends with status 0."""
    cut("-movflags", "+faststart")(path)
    data = bytearray(path.read_bytes())
    last = top_level(path)[-1]
    struct.pack_into(">I", data, last.start, len(data) - last.start)
    path.write_bytes(data)


def giant(path: Path) -> None:
    flat = ["-f", "lavfi", "-i", "color=gray:s=8192x8192:r=1:d=2"]
    run_ffmpeg([*flat, *_QUICK, "-x264-params", "threads=2:rc-lookahead=0:ref=1", str(path)])


def a_day(path: Path) -> None:
    clip(path, "-vf", "setpts=PTS+gte(N\\,30)*86400/TB", "-fps_mode", "passthrough", "-an")


def claims_weeks(*options: str, boxes: tuple[bytes, ...] = (b"mvhd",)) -> Write:
    """Two seconds of pictures and sound in a container that says three weeks."""

    def write(path: Path) -> None:
        clip(path, *options)
        data = bytearray(path.read_bytes())
        for kind in boxes:
            at = data.index(kind) + 4
            # Version 0 (ISO/IEC 14496-12, sections 8.2.2, 8.3.2 and 8.4.2): flags, two times,
            # then timescale and duration; in tkhd number, a reserved word and duration.
            scale = struct.unpack_from(">I", data, at + 12)[0]
            if kind == b"tkhd":
                struct.pack_into(">I", data, at + 20, 1000 * 21 * 86_400)
            else:
                struct.pack_into(">I", data, at + 16, min(scale * 21 * 86_400, 0xFFFF_FFFE))
        path.write_bytes(data)

    return write


def sound_of_an_hour(path: Path) -> None:
    tone = ["-f", "lavfi", "-i", "sine=d=3600:r=8000"]
    run_ffmpeg([*_PICTURE, *tone, *_QUICK, "-c:a", "aac", "-b:a", "8k", str(path)])


def many_streams(path: Path) -> None:
    one = path.with_name("one.mp4")
    run_ffmpeg([*_PICTURE, *_QUICK, "-t", "0.1", str(one)])
    run_ffmpeg(["-i", str(one), *["-map", "0:v"] * 200, "-c", "copy", str(path)])
    one.unlink()


def sound_only(path: Path) -> None:
    run_ffmpeg([*_TONE, "-c:a", "aac", "-f", "mp4", str(path)])


def box_too_large(path: Path) -> None:
    clip(path)
    data = bytearray(path.read_bytes())
    struct.pack_into(">I", data, data.index(b"stbl") - 4, 0x7FFFFFFF)
    path.write_bytes(data)


def box_too_small(path: Path) -> None:
    clip(path)
    data = bytearray(path.read_bytes())
    struct.pack_into(">I", data, data.index(b"minf") - 4, 3)
    path.write_bytes(data)


def sample_table_lies(path: Path) -> None:
    """A sample size table that claims a thousand million samples."""
    clip(path)
    data = bytearray(path.read_bytes())
    struct.pack_into(">I", data, data.index(b"stsz") + 12, 1_000_000_000)
    path.write_bytes(data)


def nested(path: Path) -> None:
    depth = 20_000
    boxes = b"".join(struct.pack(">I4s", 8 * (depth - n), b"trak") for n in range(depth))
    path.write_bytes(struct.pack(">I4s", 8 + len(boxes), b"moov") + boxes)


def linked(victim: Path) -> Write:
    """A QuickTime movie whose media is said to lie in another file, by path."""

    def write(path: Path) -> None:
        clip(path, "-an", "-f", "mov")
        data = bytearray(path.read_bytes())
        entry = data.index(b"url ", data.index(b"dref"))
        struct.pack_into(">I", data, entry + 4, 0)  # flag 1, "in this file", taken away
        data[entry : entry + 4] = b"alis"
        path.write_bytes(bytes(data) + str(victim).encode())

    return write


def scrambled(seed: int) -> Write:
    """Thirty bytes of the header changed at random."""

    def write(path: Path) -> None:
        clip(path, "-movflags", "+faststart")
        data = bytearray(path.read_bytes())
        moov = next(box for box in top_level(path) if box.kind == b"moov")
        chance = random.Random(seed)
        for _ in range(30):
            data[chance.randrange(moov.body, moov.end)] = chance.randrange(256)
        path.write_bytes(data)

    return write
