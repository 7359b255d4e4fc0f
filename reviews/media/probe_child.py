"""Read one file with libav and print what it is as JSON.

`python -I probe_child.py FILE DEMUXER MAX_STREAMS MAX_FRAMES MAX_SECONDS MAX_PIXELS`. A program of
its own because libav may crash or eat memory on a hostile file; imports nothing of the project.
Prints {"refused": code} for what it will not read; any other way to die means a damaged file.
"""

import json
import sys
from fractions import Fraction
from itertools import pairwise
from typing import Any

import av
import av.error
from av.audio.stream import AudioStream
from av.container import InputContainer
from av.stream import Disposition, Stream
from av.video.frame import VideoFrame
from av.video.stream import VideoStream

VIDEO_CODECS = "h264,hevc,vp8,vp9,libdav1d,av1,mpeg4,h263,mjpeg,prores"
AUDIO_CODECS = (
    "aac,mp3,mp3float,opus,libopus,vorbis,alac,flac,ac3,eac3,amrnb,amrwb,"
    "pcm_s16le,pcm_s16be,pcm_s24le,pcm_s24be,pcm_s32le,pcm_f32le,pcm_f32be,pcm_alaw,pcm_mulaw"
)
FIXED_ONE = 1 << 16  # the matrix is in 16.16 fixed point
_IDR, _NAL_TYPE = 5, 0x1F  # ITU-T H.264, table 7-1


class Refusal(Exception):
    """Carries the reason code to print."""


def open_safely(path: str, demuxer: str, max_streams: str, max_pixels: str) -> InputContainer:
    safe = {
        "format_whitelist": "mov,matroska,webm",
        "protocol_whitelist": "file",
        "codec_whitelist": f"{VIDEO_CODECS},{AUDIO_CODECS}",
        "max_streams": str(int(max_streams) + 1),  # one over the limit shows that it was passed
        "max_pixels": max_pixels,
    }
    if demuxer == "mov":
        safe |= {"enable_drefs": "0", "use_absolute_path": "0"}
    return av.open(path, format=demuxer, options=safe, metadata_errors="replace")


def tick(stream: Stream) -> Fraction:
    """Seconds per tick of this track."""
    if not stream.time_base:
        raise Refusal("damaged")
    return stream.time_base


def pick_video(container: InputContainer) -> VideoStream:
    """The largest moving picture; cover art does not count."""
    still = Disposition.attached_pic
    videos = [s for s in container.streams.video if not s.disposition & still]
    if not videos:
        raise Refusal("no_picture")
    known = [s for s in videos if s.codec_context is not None]
    if not known:
        raise Refusal("unknown_kind")
    return max(known, key=lambda s: s.width * s.height)


def pick_audio(container: InputContainer) -> AudioStream | None:
    """The first that can be decoded; one of spatial sound and the like is followed by another."""
    for audio in container.streams.audio:
        context = audio.codec_context
        if context is not None and context.channels and context.sample_rate:
            return audio
    return None


def audio_facts(audio: AudioStream) -> dict[str, Any]:
    context = audio.codec_context
    return {
        "index": audio.index,
        "codec": context.codec.canonical_name,
        "profile": context.profile or "",
        "channels": context.channels,
        "rate": context.sample_rate,
        "start": float((audio.start_time or 0) * tick(audio)),
    }


def has_idr(packet: bytes, length_size: int) -> bool:
    """Does this H.264 sample hold an IDR slice (length-prefixed NAL units, 14496-15)?"""
    at = 0
    while at + length_size < len(packet):
        size = int.from_bytes(packet[at : at + length_size], "big")
        if packet[at + length_size] & _NAL_TYPE == _IDR:
            return True
        at += length_size + size
    return False


def packet_facts(
    container: InputContainer,
    video: VideoStream,
    audio: AudioStream | None,
    max_frames: int,
    max_seconds: float,
) -> dict[str, Any]:
    """Walk both tracks to their ends: every frame's time, the key frames, the bytes.

    How long a clip is, these times say: headers claim weeks of two seconds, and the reverse.
    """
    extra = video.codec_context.extradata or b""
    prefixed = video.codec_context.codec.canonical_name == "h264" and extra[:1] == b"\x01"
    length_size = (extra[4] & 3) + 1 if prefixed and len(extra) > 4 else 0
    frames: list[tuple[int, int, bool]] = []
    trimmed = size = 0
    closed = bool(length_size)
    longest = max_seconds / float(tick(video))
    heard_from: float | None = None
    for packet in container.demux([video, audio] if audio else [video]):
        if not packet.size:
            continue
        if packet.stream is audio:
            heard = float((packet.pts or packet.dts or 0) * tick(audio))
            heard_from = heard if heard_from is None else heard_from
            if heard - heard_from > max_seconds:
                raise Refusal("too_long")
            continue
        if packet.is_discard:  # before the edit list's first frame: decoded but never shown
            trimmed += 1
            continue
        pts = packet.pts if packet.pts is not None else packet.dts
        if pts is None:
            raise Refusal("damaged")
        if packet.is_keyframe and closed:
            closed = has_idr(bytes(packet), length_size)
        frames.append((pts, packet.duration or 0, packet.is_keyframe))
        size += packet.size
        if len(frames) > max_frames or abs(pts - frames[0][0]) > longest:
            raise Refusal("too_long")
    if not frames:
        raise Refusal("damaged")
    reordered = any(later[0] < earlier[0] for earlier, later in pairwise(frames))
    frames.sort()
    pts_list = [pts for pts, _, _ in frames]
    last = last_duration(video, pts_list, [duration for _, duration, _ in frames], reordered)
    if pts_list[-1] + last - pts_list[0] > longest:
        raise Refusal("too_long")
    return {
        "pts": pts_list,
        "last_duration": last,
        "reordered": reordered,
        "keyframes": [n for n, (_, _, key) in enumerate(frames) if key] or [0],
        "closed_keyframes": closed,
        "promised_frames": max(len(frames), 0 if trimmed else video.frames),
        "trimmed": trimmed,
        "size": size,
    }


def last_duration(video: VideoStream, pts: list[int], durations: list[int], reordered: bool) -> int:
    """How long the last frame is shown, in ticks.

    What a packet says of itself counts in coding order: with reordered frames it may belong to
    another. The track's own length is better, where the container has one that leaves no more
    than a packet claims for itself (or that no packet speaks against).
    """
    own, most = durations[-1], max(durations)
    if video.duration and video.start_time is not None and pts[0] == video.start_time:
        rest = video.start_time + video.duration - pts[-1]
        if rest > 0 and (not most or rest <= 2 * most):
            return rest
    if own and not reordered:
        return own
    return max(
        1, (pts[-1] - pts[0]) // (len(pts) - 1) if len(pts) > 1 else own or one_thirtieth(video)
    )


def one_thirtieth(video: VideoStream) -> int:
    """A thirtieth of a second in ticks: for one frame that says nothing of its length."""
    return round(1 / (30 * tick(video)))


def orientation(frame: VideoFrame) -> tuple[int, int, int, int]:
    """Signs of a, b, c, d of the display matrix; upright when there is none or it is not square."""
    data: Any
    for data in frame.side_data:
        if data.type.name == "DISPLAYMATRIX":
            words = memoryview(bytes(data)).cast("i")
            a, b, c, d = (round(words[n] / FIXED_ONE) for n in (0, 1, 3, 4))
            if sorted(map(abs, (a, b, c, d))) == [0, 0, 1, 1] and abs(a) == abs(d):
                return (a, b, c, d)
    return (1, 0, 0, 1)


def first_frame(container: InputContainer, video: VideoStream) -> VideoFrame:
    for frame in container.decode(video):
        return frame
    raise Refusal("damaged")


def picture_facts(video: VideoStream, frame: VideoFrame) -> dict[str, Any]:
    aspect = video.sample_aspect_ratio or 1
    return {
        "index": video.index,
        "codec": video.codec_context.codec.canonical_name,
        "profile": video.codec_context.profile or "",
        "pix_fmt": frame.format.name,
        "width": frame.width,
        "height": frame.height,
        "sample_aspect": [aspect.numerator, aspect.denominator] if aspect != 1 else [1, 1],
        "orientation": orientation(frame),
        "transfer": int(frame.color_trc),
        "primaries": int(frame.color_primaries),
        "matrix": int(frame.colorspace),
        "full_range": int(frame.color_range) == 2,
        "interlaced": bool(frame.interlaced_frame),
        "time_base": [tick(video).numerator, tick(video).denominator],
    }


def facts(argv: list[str]) -> dict[str, Any]:
    path, demuxer, max_streams, max_frames, max_seconds, max_pixels = argv
    with open_safely(path, demuxer, max_streams, max_pixels) as container:
        if len(container.streams) > int(max_streams):
            raise Refusal("too_many_parts")
        video = pick_video(container)
        if video.width * video.height > int(max_pixels):
            raise Refusal("too_big_picture")
        start = (container.start_time or 0) / av.time_base
        capture = container.metadata.get("com.android.capture.fps")
        brand = container.metadata.get("major_brand", demuxer).strip()
        audio = pick_audio(container)
        packets = packet_facts(container, video, audio, int(max_frames), float(max_seconds))
        reached = float((packets["pts"][-1] + packets["last_duration"]) * tick(video)) - start
        # A Matroska header tells the length, counted from 0; a file that ends well before it was
        # cut.
        claimed = (container.duration or 0) / av.time_base - start
        if demuxer == "matroska" and reached < 0.9 * claimed - 0.5:
            raise Refusal("cut_off")
        sound = audio_facts(audio) if audio else None
    with open_safely(path, demuxer, max_streams, max_pixels) as container:
        video = pick_video(container)
        picture = picture_facts(video, first_frame(container, video))
    return {
        "demuxer": demuxer,
        "brand": brand,
        "start": start,
        "capture_rate": _number(capture),
        "video": picture | packets,
        "audio": sound,
    }


def _number(text: str | None) -> float | None:
    try:
        return float(text) if text else None
    except ValueError:
        return None


if __name__ == "__main__":
    try:
        answer = facts(sys.argv[1:])
    except Refusal as refusal:
        answer = {"refused": str(refusal)}
    except (av.error.FFmpegError, MemoryError, ArithmeticError, ValueError) as error:
        answer = {"refused": "damaged", "detail": f"{type(error).__name__}: {error}"}
    json.dump(answer, sys.stdout, separators=(",", ":"))
