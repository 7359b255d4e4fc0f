"""Encodes frames the way phones store them, by one ffmpeg process fed through a pipe."""

import subprocess
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import numpy as np
from imageio_ffmpeg import get_ffmpeg_exe
from numpy.typing import NDArray

TICKS = 90_000
LOCATION = "+51.4769+000.0005+045.0/"  # an observatory open to the public, nobody's home


@dataclass(frozen=True)
class Profile:
    """How a phone would store a clip.

    turns: quarter turns clockwise between the upright picture and the stored frame; the file
    carries the rotation that undoes them. steady is False for variable frame times. channels is of
    the sound: one or two microphones.
    """

    suffix: str
    fps: float
    codec: tuple[str, ...]
    ten_bit: bool = False
    turns: int = 0
    steady: bool = True
    channels: int = 1
    tags: dict[str, str] = field(default_factory=dict)
    colour: tuple[str, str, str] = ("bt709", "bt709", "bt709")


# Fast, but High profile as phones write it; the quality leaves the sensor's noise in.
H264 = (
    "libx264", "-preset", "ultrafast", "-crf", "21", "-threads", "1",
    "-x264-params", "cabac=1:8x8dct=1",
)  # fmt: skip
HEVC = (
    "libx265", "-preset", "ultrafast", "-crf", "20", "-tag:v", "hvc1",
    "-x265-params", "log-level=error:pools=1:frame-threads=1:me=dia:subme=0:rd=1:early-skip=1",
)  # fmt: skip
PHONE_TAGS = {"make": "Drawn", "model": "Drawn Phone 1", "creation_time": "2026-01-05T18:30:00Z"}
QUICKTIME_TAGS = {
    "com.apple.quicktime.location.ISO6709": LOCATION,
    "com.apple.quicktime.make": "Drawn",
    "com.apple.quicktime.model": "Drawn Phone 1",
    "com.apple.quicktime.creationdate": "2026-01-05T18:30:00+0000",
    "creation_time": "2026-01-05T18:30:00Z",
}
PROFILES: dict[str, Profile] = {
    "h264": Profile(".mp4", 30, H264, tags={**PHONE_TAGS, "location": LOCATION}),
    "h264_rotated": Profile(".mp4", 30, H264, turns=3, tags={**PHONE_TAGS, "location": LOCATION}),
    "vfr": Profile(".mp4", 30, H264, steady=False, tags={**PHONE_TAGS, "location": LOCATION}),
    "slow240": Profile(".mp4", 240, H264, channels=2, tags={**PHONE_TAGS, "location": LOCATION}),
    "hevc_hlg": Profile(
        ".mov", 30, HEVC, ten_bit=True, turns=3, channels=2, tags=QUICKTIME_TAGS,
        colour=("bt2020", "arib-std-b67", "bt2020nc"),
    ),
}  # fmt: skip


def frame_ticks(profile: Profile, fps: float, seconds: float, seed: int) -> NDArray[np.int64]:
    """Presentation times of every frame in ticks of 1/90,000 s, from 0.

    Variable: exposure-driven jitter, a slower stretch as in low light, and dropped frames, as
    phones record (their pattern is ours, from memory).
    """
    count = max(2, int(seconds * fps))
    if profile.steady:
        return np.asarray((np.arange(count) * TICKS / fps).round().astype(np.int64))
    rng = np.random.default_rng([seed, 53])
    step = TICKS / fps * np.ones(count)
    step += rng.normal(0, 90, count).round()
    slow = int(rng.integers(count // 3, max(count // 2, count // 3 + 1)))
    step[slow : slow + count // 6] *= 1.25
    step[rng.random(count) < 0.03] *= 2
    step[min(7, count - 1)] *= 2
    ticks = np.concatenate([[0], np.cumsum(step.round())[:-1]]).astype(np.int64)
    return np.asarray(ticks[ticks < seconds * TICKS])


class Encoder:
    """Writes one clip; use as a context manager and `write` every frame's planes in order."""

    def __init__(
        self,
        out: Path,
        profile: Profile,
        size: tuple[int, int],
        fps: float,
        ticks: NDArray[np.int64],
        sound: Path | None,
    ) -> None:
        self.command = _command(out, profile, size, fps, ticks, sound)

    def __enter__(self) -> "Encoder":
        self.process = subprocess.Popen(
            self.command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE
        )
        return self

    def write(self, planes: list[NDArray[Any]]) -> None:
        """One frame; raises RuntimeError with ffmpeg's own words when it has given up."""
        assert self.process.stdin is not None
        try:
            for plane in planes:
                self.process.stdin.write(np.ascontiguousarray(plane).data.cast("B"))
        except BrokenPipeError as gone:
            raise RuntimeError(self._words()) from gone

    def _words(self) -> str:
        assert self.process.stderr is not None
        return self.process.stderr.read().decode(errors="replace")[-2000:]

    def __exit__(self, kind: object, *_: object) -> None:
        assert self.process.stdin is not None
        if kind is not None:
            self.process.kill()
            self.process.wait()
            return
        self.process.stdin.close()
        words = self._words()
        if self.process.wait():
            raise RuntimeError(f"ffmpeg could not encode the clip: {words}")


def _lookup(ticks: NDArray[np.int64], first: int) -> str:
    """An expression that gives frame N its time: halving, since a flat sum nests too deeply."""
    if len(ticks) == 1:
        return str(ticks[0])
    half = len(ticks) // 2
    below, above = _lookup(ticks[:half], first), _lookup(ticks[half:], first + half)
    return f"if(lt(N,{first + half}),{below},{above})"


def _command(
    out: Path,
    profile: Profile,
    size: tuple[int, int],
    fps: float,
    ticks: NDArray[np.int64],
    sound: Path | None,
) -> list[str]:
    stored = size[::-1] if profile.turns % 2 else size
    primaries, transfer, matrix = profile.colour
    command = [get_ffmpeg_exe(), "-nostdin", "-hide_banner", "-loglevel", "error", "-y"]
    command += ["-noautorotate"]
    if profile.turns:
        command += ["-display_rotation:v:0", str(90 * profile.turns)]
    command += ["-f", "rawvideo", "-pix_fmt", "yuv420p10le" if profile.ten_bit else "yuv420p"]
    command += ["-s", f"{stored[0]}x{stored[1]}", "-framerate", f"{fps}", "-i", "pipe:0"]
    if sound:
        command += ["-i", str(sound), "-c:a", "aac", "-b:a", "96k"]
    filters = (
        f"setparams=range=tv:color_primaries={primaries}:color_trc={transfer}:colorspace={matrix}"
    )
    if not profile.steady:
        filters += f",settb=1/{TICKS},setpts='{_lookup(ticks, 0)}'"
    command += ["-vf", filters, "-fps_mode", "passthrough", "-enc_time_base:v", f"1/{TICKS}"]
    command += ["-c:v", *profile.codec, "-video_track_timescale", str(TICKS)]
    command += ["-color_primaries", primaries, "-color_trc", transfer, "-colorspace", matrix]
    for name, value in profile.tags.items():
        command += ["-metadata", f"{name}={value}"]
    return [*command, "-map_metadata", "-1", "-movflags", "use_metadata_tags+faststart", str(out)]
