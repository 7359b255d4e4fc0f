"""The arguments of the one ffmpeg process. Pure: a plan in, a list of words out.

One process with a split graph decodes the source once for playable, poster, filmstrip and
waveform: 0.53 to 0.63 of the time of separate commands.
"""

import os
from collections.abc import Iterable
from pathlib import Path
from typing import Any

import ffmpeg

from reviews.media.limits import Limits
from reviews.media.plan import GROUP, Plan
from reviews.media.probe_child import AUDIO_CODECS, VIDEO_CODECS
from reviews.media.source import BT2020_PRIMARIES, Source

PLAYABLE, POSTER, TILES, SOUND = "playable.mp4", "poster.rgb", "tiles.rgb", "sound.s16"
SOUND_RATE = 8000
_P3_PRIMARIES = 12  # ITU-T H.273, table 2
_UNSPECIFIED = 2  # ITU-T H.273, tables 2 to 4

# Display matrix signs -> filters. `transpose` 0 is the plain matrix transpose, 1 clockwise,
# 2 counter-clockwise, 3 the transpose about the other diagonal.
_TURNS: dict[tuple[int, int, int, int], tuple[tuple[str, dict[str, str]], ...]] = {
    (1, 0, 0, 1): (),
    (0, 1, -1, 0): (("transpose", {"dir": "1"}),),
    (0, -1, 1, 0): (("transpose", {"dir": "2"}),),
    (-1, 0, 0, -1): (("hflip", {}), ("vflip", {})),
    (-1, 0, 0, 1): (("hflip", {}),),
    (1, 0, 0, -1): (("vflip", {}),),
    (0, 1, 1, 0): (("transpose", {"dir": "0"}),),
    (0, -1, -1, 0): (("transpose", {"dir": "3"}),),
}

# Strengths in space (luma, chroma) and time. A little averaging over time of what hardly changes:
# drawn clips with a phone's sensor noise then take 0.2 of the bytes and are closer to the same clip
# drawn without noise (SSIM 0.992 instead of 0.984). Nothing is blurred within a picture.
_STILLNESS = (0, 0, 3, 3)

# White of a graphics overlay in HDR programmes (ITU-R BT.2408, section 2.1): the 1.0 of our
# linear light; 1000 cd/m2 is the nominal peak of HLG (ITU-R BT.2100, table 5).
_WHITE = 203
_PEAK = 1000 / _WHITE


def arguments(source: Source, plan: Plan, out: Path, limits: Limits) -> list[str]:
    """Words after the program's name for making everything from `input` in its folder."""
    given = opened(source, limits)
    given["noautorotate"] = None  # turned after scaling, when there are fewer pixels to move
    if plan.remux:
        given["skip_frame:v"] = "nokey"
    clip = ffmpeg.input("input", **given)
    heard, drawn = sound(clip, source, plan)
    outputs = _pictures(clip, source, plan, out, heard)
    if drawn is not None:
        outputs.append(ffmpeg.output(drawn, str(out / SOUND), format="s16le"))
    return words(outputs)


def words(outputs: list[Any]) -> list[str]:
    """The command line of these outputs with the flags that every run has."""
    safe = ["-nostdin", "-hide_banner", "-loglevel", "error", "-y"]
    progress = ["-progress", "pipe:1", "-stats_period", "0.25"]
    return [*safe, *progress, *ffmpeg.merge_outputs(*outputs).get_args()]


def opened(source: Source, limits: Limits) -> dict[str, Any]:
    """How an upload is opened, always."""
    given: dict[str, Any] = {
        "format": source.demuxer,
        "format_whitelist": "mov,matroska,webm",
        "protocol_whitelist": "file",
        "codec_whitelist": f"{VIDEO_CODECS},{AUDIO_CODECS}",
        "max_streams": limits.max_streams,
        "max_pixels": limits.max_pixels,
        "threads": threads(),
        "t": limits.max_seconds + 1,
    }
    if source.demuxer == "mov":
        given |= {"enable_drefs": 0, "use_absolute_path": 0}
    return given


def bare() -> dict[str, Any]:
    """Output options that keep titles, places, devices, programs and chapters out."""
    return {
        "map_metadata": "-1",
        "map_metadata:s:v": "-1",
        "map_metadata:s:a": "-1",
        "map_chapters": "-1",
        "fflags": "+bitexact",
    }


def threads() -> int:
    """Enough for a clip, without reserving address space for every core of a large server."""
    return min(os.cpu_count() or 1, 8)


def h264() -> dict[str, Any]:
    """How pictures of the playable are coded.

    Without B-frames, for an eighth more bytes. A decoder holds pictures back to put them in order,
    at every seek (the slowest of twenty takes 1.1 of an all-intra copy's time, with two of them
    1.4; measured on two cores). And MP4 keeps durations in coding order: where gaps differ much, a
    browser seeks past short frames (measured: one of twenty at gaps of 4 and 250 ms).
    """
    return {
        "c:v": "libx264",
        "preset": "veryfast",
        "crf": 23,
        "tune": "fastdecode",
        "profile:v": "high",
        "pix_fmt": "yuv420p",
        "g": GROUP,
        "bf": 0,
        "sc_threshold": 0,
        "flags:v": "+cgop+bitexact",
        # The encoder's own unregistered SEI: a paragraph of settings that no player needs.
        "bsf:v": "filter_units=remove_types=6",
    }


def upright(source: Source, plan: Plan, stream: Any) -> Any:
    """`stream` at the playable's size, standard dynamic range, upright, its times from 0."""
    video = source.video
    width, height = plan.width, plan.height
    if video.is_sideways:
        width, height = height, width
    # Equal, near-equal or backward times exist in the wild. A little later keeps the frame and the
    # order; an eighth of the usual gap is enough for a browser to seek between the two (measured).
    gap = (video.pts[-1] - video.pts[0]) // video.frames
    on_time = f"gt(PTS-STARTPTS,PREV_OUTPTS+{gap // 64})"
    later = f"if({on_time},PTS-STARTPTS,PREV_OUTPTS+{max(1, gap // 8)})"
    stream = stream.filter("setpts", f"if(eq(N,0),0,{later})")
    stream = _colour(source, stream, width, height)
    for name, options in _TURNS[video.orientation]:
        stream = stream.filter(name, **options)
    stream = stream.filter("sidedata", mode="delete", type="DISPLAYMATRIX")
    stream = stream.filter("setsar", "1").filter("format", "yuv420p")
    stream = stream.filter("hqdn3d", *_STILLNESS)
    return stream.filter(
        "setparams", color_primaries="bt709", color_trc="bt709", colorspace="bt709", range="tv"
    )


def _colour(source: Source, stream: Any, width: int, height: int) -> Any:
    """Scale, then bring to BT.709: 2.8 times cheaper than the other order."""
    video = source.video
    size = {"w": width, "h": height, "flags": "bicubic"}
    if not video.is_hdr and video.primaries not in (BT2020_PRIMARIES, _P3_PRIMARIES):
        given = {"in_color_matrix": _guessed_matrix(source)} if video.matrix == _UNSPECIFIED else {}
        return stream.filter("scale", **size, **given, out_color_matrix="bt709", out_range="tv")
    transfer = str(_UNSPECIFIED if video.transfer == _UNSPECIFIED else video.transfer)
    stream = stream.filter("scale", **size).filter(
        "zscale",
        pin=str(video.primaries if video.primaries != _UNSPECIFIED else BT2020_PRIMARIES),
        tin="1" if transfer == str(_UNSPECIFIED) else transfer,
        min=str(video.matrix if video.matrix != _UNSPECIFIED else BT2020_PRIMARIES),
        t="linear",
        npl=str(_WHITE),
    )
    stream = stream.filter("format", "gbrpf32le").filter("zscale", p="bt709")
    if video.is_hdr:
        stream = stream.filter("tonemap", "mobius", param="0.5", desat="0", peak=f"{_PEAK:.3f}")
    return stream.filter("zscale", t="bt709", m="bt709", r="limited").filter("format", "yuv420p")


def _guessed_matrix(source: Source) -> str:
    """An untagged picture is BT.709 from 720 lines on, else BT.601: common practice, no source."""
    return "bt709" if min(source.video.width, source.video.height) >= 720 else "bt601"


def _pictures(clip: Any, source: Source, plan: Plan, out: Path, heard: Any) -> list[Any]:
    """The outputs playable (with the sound `heard`, if any), poster and tiles."""
    stored = clip[str(source.video.index)]
    numbers = {key: n for n, key in enumerate(source.video.keyframes)}
    decoded = numbers if plan.remux else {}
    shown = upright(source, plan, stored).filter_multi_output("split", 2 if plan.remux else 3)
    poster = shown[0].filter("select", f"eq(n,{decoded.get(plan.poster, plan.poster)})")
    thumbs = tiles(shown[1], plan, [decoded.get(pick, pick) for pick in plan.picks])
    raw = {"format": "rawvideo", "pix_fmt": "rgb24", "fps_mode": "passthrough"}
    moving = [stored] if plan.remux else [shown[2]]
    if heard is not None:
        moving.append(heard)
    return [
        ffmpeg.output(*moving, str(out / PLAYABLE), **playable_options(source, plan)),
        ffmpeg.output(poster, str(out / POSTER), **raw),
        ffmpeg.output(thumbs, str(out / TILES), **raw),
    ]


def tiles(shown: Any, plan: Plan, numbers: Iterable[int]) -> Any:
    """The frames `numbers` of what is shown, at the filmstrip's size."""
    chosen = shown.filter("select", "+".join(f"eq(n,{number})" for number in numbers))
    return chosen.filter("scale", w=plan.tile_width, h=plan.tile_height, flags="area")


def playable_options(source: Source, plan: Plan) -> dict[str, Any]:
    """How the playable is written: codecs, clock, and nothing that tells on the athlete."""
    options = bare() | {
        "format": "mp4",
        "movflags": "+faststart",
        "video_track_timescale": plan.timescale,
        "write_tmcd": 0,
        "empty_hdlr_name": 1,
    }
    if plan.remux:
        options |= {"c:v": "copy", "bsf:v": "filter_units=remove_types=6"}
    else:
        options |= h264() | {
            "fps_mode": "passthrough",
            "enc_time_base:v": f"1/{plan.timescale}",
            "threads:v": threads(),
        }
    if plan.audio == "copy":
        options["c:a"] = "copy"
    elif plan.audio == "encode":
        options |= {"c:a": "aac", "b:a": "128k", "flags:a": "+bitexact"}
    return options


def sound(clip: Any, source: Source, plan: Plan) -> tuple[Any, Any]:
    """The sound for the playable and, as raw mono, for the waveform; None for what there is not.

    Its clock is that of the first frame, and it is cut where the pictures end.
    """
    if plan.audio == "none" or source.audio is None:
        return None, None
    stored = clip[str(source.audio.index)]
    late = source.audio.start - float(source.video.pts[0] * source.video.time_base)
    decoded = (
        stored.filter("asetpts", f"PTS-STARTPTS+({late:.6f}/TB)")
        .filter("aresample", **{"async": "1", "first_pts": "0"})
        .filter("atrim", end=f"{source.video.seconds:.6f}")
    )
    heard = stored
    if plan.audio == "encode":
        both = decoded.filter_multi_output("asplit", 2)
        heard = both[0].filter("aformat", channel_layouts="stereo", sample_rates="48000|44100")
        decoded = both[1]
    mono = {"channel_layouts": "mono", "sample_fmts": "s16", "sample_rates": str(SOUND_RATE)}
    return heard, decoded.filter("aformat", **mono)
