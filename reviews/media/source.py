"""What was learnt about a file by reading it: the shape that probing returns and planning takes."""

from dataclasses import asdict, dataclass
from fractions import Fraction
from itertools import pairwise
from typing import Any

HDR_TRANSFERS = {16: "PQ", 18: "HLG"}  # ITU-T H.273, table 3
BT2020_PRIMARIES = 9  # ITU-T H.273, table 2

# How the stored picture must be turned to stand upright: the a, b, c, d of its display matrix
# (ISO/IEC 14496-12, section 6.2.2), as signs.
UPRIGHT = (1, 0, 0, 1)


@dataclass(frozen=True, kw_only=True)
class Video:
    """The picture track. Sizes in pixels as stored; `pts` in ticks of `time_base`, sorted."""

    index: int
    codec: str
    profile: str
    pix_fmt: str
    width: int
    height: int
    sample_aspect: Fraction
    orientation: tuple[int, int, int, int]
    transfer: int
    primaries: int
    matrix: int
    full_range: bool
    interlaced: bool
    time_base: Fraction
    pts: tuple[int, ...]
    last_duration: int
    promised_frames: int
    trimmed: int
    keyframes: tuple[int, ...]
    closed_keyframes: bool
    reordered: bool
    size: int

    @property
    def frames(self) -> int:
        return len(self.pts)

    @property
    def seconds(self) -> float:
        """From the start of the first frame to the end of the last."""
        return float((self.pts[-1] + self.last_duration - self.pts[0]) * self.time_base)

    @property
    def is_hdr(self) -> bool:
        return self.transfer in HDR_TRANSFERS

    @property
    def is_sideways(self) -> bool:
        return self.orientation[0] == 0

    @property
    def upright_size(self) -> tuple[Fraction, Fraction]:
        """Width and height as seen: square pixels, turned upright."""
        wide, high = self.width * self.sample_aspect, Fraction(self.height)
        return (high, wide) if self.is_sideways else (wide, high)

    @property
    def variable_rate(self) -> bool:
        """True when gaps differ by more than the rounding of one tick."""
        gaps = [after - before for before, after in pairwise(self.pts)]
        return bool(gaps) and max(gaps) - min(gaps) > 1

    @property
    def uneven(self) -> bool:
        """True when the longest gap is more than a third longer than the shortest.

        With two B-frames a key frame is decoded two gaps before it is shown, and a browser takes
        it for a place from there on: one and a half of the longest gaps (to the middle of the
        frame before it) must not reach two of the shortest, or that frame is never seen.
        """
        gaps = [after - before for before, after in pairwise(self.pts)]
        return bool(gaps) and 3 * max(gaps) > 4 * min(gaps)

    @property
    def longest_group(self) -> int:
        """The most pictures from one key frame to the next (or to the end)."""
        ends = (*self.keyframes[1:], self.frames)
        return max(
            (end - start for start, end in zip(self.keyframes, ends, strict=True)), default=0
        )


@dataclass(frozen=True, kw_only=True)
class Audio:
    """The sound track that is kept: the first that can be decoded. `start` in seconds."""

    index: int
    codec: str
    profile: str
    channels: int
    rate: int
    start: float


@dataclass(frozen=True, kw_only=True)
class Source:
    """One readable clip. `start` is the container's own first time, in seconds."""

    demuxer: str
    brand: str
    start: float
    capture_rate: float | None
    video: Video
    audio: Audio | None

    @property
    def time_scale(self) -> float:
        """Playback seconds per real second: 1.0 unless the file says that it was slowed down.

        A phone that stores 240 frames a second at 30 says so by `com.android.capture.fps`.
        """
        if not self.capture_rate or self.video.frames < 2:
            return 1.0
        slowed = self.capture_rate * self.video.seconds / self.video.frames
        return round(slowed, 4) if slowed > 1.05 else 1.0

    def to_json(self) -> dict[str, Any]:
        """The facts worth showing a person, without the list of times."""
        video = self.video
        facts = asdict(video)
        for bulky in ("pts", "keyframes"):
            del facts[bulky]
        return {
            "demuxer": self.demuxer,
            "brand": self.brand,
            "start": self.start,
            "time_scale": self.time_scale,
            "video": facts
            | {
                "sample_aspect": str(video.sample_aspect),
                "time_base": str(video.time_base),
                "orientation": list(video.orientation),
                "frames": video.frames,
                "seconds": round(video.seconds, 6),
                "variable_rate": video.variable_rate,
                "longest_group": video.longest_group,
            },
            "audio": None if self.audio is None else asdict(self.audio),
        }


def source_from_json(facts: dict[str, Any]) -> Source:
    """Build a Source from what `probe_child` prints."""
    video = dict(facts["video"])
    for name in ("sample_aspect", "time_base"):
        video[name] = Fraction(*video[name])
    for name in ("pts", "keyframes", "orientation"):
        video[name] = tuple(video[name])
    audio = facts["audio"]
    return Source(
        demuxer=facts["demuxer"],
        brand=facts["brand"],
        start=facts["start"],
        capture_rate=facts["capture_rate"],
        video=Video(**video),
        audio=None if audio is None else Audio(**audio),
    )
