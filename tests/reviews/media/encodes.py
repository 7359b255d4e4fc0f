"""Real encodes of the test picture, of every kind that phones and editors write."""

import subprocess
from dataclasses import dataclass, field
from pathlib import Path

from reviews.media.tools import ffmpeg_exe
from tests.reviews.media.picture import stack

UPRIGHT = ("red", "green", "blue", "white")
HLG = "arib-std-b67"
PQ = "smpte2084"

H264 = ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-bf", "2", "-g", "60"]
FITTING = ["-c:v", "libx264", "-preset", "ultrafast", "-pix_fmt", "yuv420p", "-bf", "2", "-g", "15"]
HEVC = ["-c:v", "libx265", "-preset", "ultrafast", "-tag:v", "hvc1", "-x265-params", "log-level=0"]
VP9 = ["-c:v", "libvpx-vp9", "-deadline", "realtime", "-cpu-used", "8", "-b:v", "400k"]
AV1 = ["-c:v", "libsvtav1", "-preset", "12", "-crf", "40", "-svtav1-params", "lp=2"]

UNEVEN_TIMES = "settb=1/90000,setpts='(N*33+mod(N*7,19))/1000/TB'"
VERY_UNEVEN_TIMES = "settb=1/90000,setpts='if(eq(N,0),0,PREV_OUTPTS+if(mod(N,5),0.004,0.25)*90000)'"
DEVICE_TAGS = {
    "com.apple.quicktime.location.ISO6709": "+47.3700+008.5400+408.000/",
    "com.apple.quicktime.make": "Secretmaker",
    "com.apple.quicktime.model": "Secretmodel 9",
    "com.apple.quicktime.creationdate": "2026-11-20T18:00:00+0100",
    "title": "Secret garage",
    "location": "+47.3700+008.5400/",
    "comment": "Secret comment",
}


@dataclass(frozen=True, kw_only=True)
class Kind:
    """How one clip is encoded and what must come out of it."""

    name: str
    video: list[str] = field(default_factory=lambda: list(H264))
    width: int = 320
    height: int = 180
    frames: int = 24
    rate: str = "30"
    filters: str = ""
    channels: str = "stereo"
    sound: list[str] = field(default_factory=lambda: ["-c:a", "aac"])
    output: list[str] = field(default_factory=list)
    turn: int = 0
    trim: str = ""
    tags: dict[str, str] = field(default_factory=dict)
    expect_size: tuple[int, int] | None = None

    @property
    def size(self) -> tuple[int, int]:
        return self.expect_size or (self.width, self.height)


def hdr(transfer: str) -> dict[str, object]:
    """Real HDR: the drawn picture lifted to BT.2020 light at graphics white, in 10 bits."""
    lifted = f"zscale=pin=709:tin=709:min=gbr:p=2020:t={transfer}:m=2020_ncl:npl=203"
    params = f"log-level=0:colorprim=bt2020:transfer={transfer}:colormatrix=bt2020nc"
    return {
        "filters": f"{lifted},format=yuv420p10le",
        "video": [*HEVC[:-1], params, "-pix_fmt", "yuv420p10le"],
    }


def turned(angle: int) -> dict[str, object]:
    """Stored lying down, with a display matrix that stands it up again."""
    lay = {90: "transpose=1", 180: "hflip,vflip", 270: "transpose=2"}[angle]
    return {"turn": angle, "filters": lay}


KINDS = [
    Kind(name="h264.mp4"),
    Kind(name="h264_10bit.mp4", video=[*H264[:5], "yuv420p10le"]),
    Kind(name="hevc.mp4", video=[*HEVC, "-pix_fmt", "yuv420p"]),
    Kind(name="hevc_10bit.mov", video=[*HEVC, "-pix_fmt", "yuv420p10le"]),
    Kind(name="hlg.mov", **hdr(HLG)),
    Kind(name="pq.mp4", **hdr(PQ)),
    Kind(name="turned_90.mov", **turned(90)),
    Kind(name="turned_180.mp4", **turned(180)),
    Kind(name="turned_270.mov", **turned(270)),
    Kind(
        name="hlg_turned_tagged.mov",
        turn=90,
        tags=DEVICE_TAGS,
        **(hdr(HLG) | {"filters": f"{hdr(HLG)['filters']},transpose=1"}),
    ),
    Kind(name="uneven.mp4", filters=UNEVEN_TIMES, output=["-enc_time_base", "1/90000"]),
    Kind(name="uneven.mkv", filters=UNEVEN_TIMES, output=["-enc_time_base", "1/1000"]),
    Kind(
        name="very_uneven.mp4",
        filters=VERY_UNEVEN_TIMES,
        channels="",
        output=["-enc_time_base", "1/90000"],
    ),
    Kind(name="fps120.mp4", rate="120", frames=60),
    Kind(name="fps240.mov", rate="240", frames=120, video=[*HEVC, "-pix_fmt", "yuv420p"]),
    Kind(name="ntsc.mp4", rate="60000/1001"),
    Kind(
        name="uhd60.mp4",
        rate="60",
        frames=12,
        filters="scale=3840:2160:flags=neighbor",
        video=[*HEVC, "-pix_fmt", "yuv420p"],
        expect_size=(1280, 720),
    ),
    Kind(name="silent.mp4", channels=""),
    Kind(name="mono.mp4", channels="mono"),
    Kind(name="surround.mp4", channels="5.1"),
    Kind(name="pcm.mov", sound=["-c:a", "pcm_s16le"]),
    Kind(
        name="odd.mp4",
        width=323,
        height=181,
        video=[*H264[:5], "yuv444p"],
        expect_size=(322, 180),
    ),
    Kind(
        name="odd_hlg.mov",
        width=323,
        height=181,
        expect_size=(322, 180),
        filters=f"{hdr(HLG)['filters']}".replace("420", "444"),
        video=[*hdr(HLG)["video"][:-1], "yuv444p10le"],  # type: ignore[index]
    ),
    Kind(name="full_chroma.mp4", video=[*H264[:5], "yuv444p"]),
    Kind(name="one_frame.mp4", frames=1),
    Kind(
        name="wide_pixels.mp4",
        width=240,
        filters="setsar=4/3",
        expect_size=(320, 180),
    ),
    Kind(name="ten_hours.mp4", output=["-output_ts_offset", "36000"]),
    Kind(name="ten_hours.mkv", output=["-output_ts_offset", "36000"]),
    Kind(name="vp9.webm", video=VP9, sound=["-c:a", "libopus"]),
    Kind(name="av1.webm", video=AV1, sound=["-c:a", "libopus"]),
    Kind(name="av1.mp4", video=AV1),
    Kind(name="open_groups.mp4", video=[*H264, "-x264-params", "open-gop=1:keyint=8"]),
    Kind(name="fitting.mp4", video=FITTING),
    Kind(name="fitting_tagged.mov", video=FITTING, tags=DEVICE_TAGS),
    Kind(name="fitting.mkv", video=FITTING),
    Kind(name="fragmented.mp4", output=["-movflags", "frag_keyframe+empty_moov"]),
]

# Clips with something odd about their times, which the tests of that oddness look at.
ODDITIES = [
    Kind(name="trimmed.mp4", trim="0.4"),
    Kind(name="doubled.mp4", filters="setpts='(N-mod(N,2))/30/TB'"),
    Kind(name="slowed.mp4", tags={"com.android.capture.fps": "240.0"}),
]


def encode(kind: Kind, folder: Path) -> Path:
    """Write one clip of this kind; its name says the container."""
    path = folder / kind.name
    source = ["-f", "rawvideo", "-pix_fmt", "rgb24", "-s", f"{kind.width}x{kind.height}"]
    words = [*source, "-r", kind.rate, "-i", "pipe:0", *_tone(kind)]
    if kind.filters:
        words += ["-vf", kind.filters]
    words += [*kind.video, "-fps_mode", "passthrough", *_tags(kind.tags), *kind.output]
    again = ["-display_rotation", str(kind.turn)] if kind.turn else []
    again += ["-ss", kind.trim] if kind.trim else []
    first = folder / f"first_{kind.name}" if again else path
    pixels = b"".join(stack(kind.frames, kind.width, kind.height))
    run_ffmpeg([*words, str(first)], pixels)
    if again:
        run_ffmpeg([*again, "-i", str(first), "-c", "copy", *_tags(kind.tags), str(path)])
        first.unlink()
    return path


def run_ffmpeg(words: list[str], given: bytes = b"") -> None:
    command = [ffmpeg_exe(), "-v", "error", "-y", *words]
    subprocess.run(command, input=given, check=True, timeout=60)


def _tone(kind: Kind) -> list[str]:
    if not kind.channels:
        return ["-an"]
    tone = (
        f"sine=frequency=440:duration=1:sample_rate=48000,aformat=channel_layouts={kind.channels}"
    )
    return ["-f", "lavfi", "-i", tone, *kind.sound, "-shortest"]


def _tags(tags: dict[str, str]) -> list[str]:
    if not tags:
        return []
    pairs = [word for key, value in tags.items() for word in ("-metadata", f"{key}={value}")]
    device = ["-metadata:s:v", "handler_name=Secret handler"]
    return [*pairs, *device, "-movflags", "use_metadata_tags"]
