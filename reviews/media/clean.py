"""A downloadable copy of the original, bit for bit the same pictures and sound, without the rest.

The original itself is never served: it may say where the athlete lives.
"""

from pathlib import Path

import ffmpeg

from reviews.media.graph import bare, opened, words
from reviews.media.limits import Limits
from reviews.media.source import Source

_WEBM = {"vp8", "vp9", "av1"}
_WEBM_SOUND = {"opus", "vorbis"}
_MP4 = {"h264", "hevc", "av1", "vp9", "mpeg4"}
_MP4_SOUND = {"aac", "mp3", "ac3", "eac3", "alac", "opus", "flac"}


def extension(source: Source) -> str:
    """The container of the copy: the source's own family, whichever member can hold its codecs."""
    sound = None if source.audio is None else source.audio.codec
    video = source.video.codec
    if source.demuxer == "matroska":
        return "webm" if video in _WEBM and (sound is None or sound in _WEBM_SOUND) else "mkv"
    plain = video in _MP4 and (sound is None or sound in _MP4_SOUND)
    return "mp4" if plain and source.brand != "qt" else "mov"


def arguments(source: Source, into: Path, limits: Limits) -> list[str]:
    """Words after the program's name for copying `input` in its folder to `into`.

    Only the picture and sound tracks: timed metadata (place, motion) and text are left behind.
    How the picture must be turned is kept, or the copy would lie on its side.
    """
    clip = ffmpeg.input("input", **opened(source, limits))
    tracks = [clip[str(source.video.index)]]
    if source.audio is not None:
        tracks.append(clip[str(source.audio.index)])
    kind = extension(source)
    options = bare() | {"c": "copy", "format": "matroska" if kind == "mkv" else kind}
    if kind in ("mp4", "mov"):
        options |= {"movflags": "+faststart", "write_tmcd": 0, "empty_hdlr_name": 1}
        if source.video.codec == "hevc":
            options["tag:v"] = "hvc1"  # parameter sets in the header: what players expect
    return words([ffmpeg.output(*tracks, str(into), **options)])
