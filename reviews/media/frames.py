"""The frame table: the presentation time of every frame of the playable, the clip's only clock.

Shape: {"version": 1, "timescale": ticks per second, "pts": [0, ...], "duration": ticks,
"time_scale": playback seconds per real second}. `pts` are integers in presentation order, strictly
increasing from 0; `duration` is the end of the last frame.
"""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from reviews.media.source import Source


class BadTable(Exception):
    """The playable's times cannot serve as a clock."""


@dataclass(frozen=True, kw_only=True)
class FrameTable:
    timescale: int
    pts: tuple[int, ...]
    duration: int
    time_scale: float = 1.0

    def __post_init__(self) -> None:
        rising = all(b > a for a, b in pairwise(self.pts))
        if not self.pts or self.pts[0] != 0 or not rising or self.duration <= self.pts[-1]:
            raise BadTable(f"{len(self.pts)} frames from {self.pts[:1]}, duration {self.duration}")

    @property
    def seconds(self) -> float:
        return self.duration / self.timescale

    def to_json(self) -> dict[str, Any]:
        return {
            "version": 1,
            "timescale": self.timescale,
            "pts": list(self.pts),
            "duration": self.duration,
            "time_scale": self.time_scale,
        }


def frame_table(playable: Source, time_scale: float) -> FrameTable:
    """The table of a probed playable. Raises BadTable when its times do not start at 0 and rise."""
    video = playable.video
    return FrameTable(
        timescale=video.time_base.denominator,
        pts=video.pts,
        duration=video.pts[-1] + video.last_duration,
        time_scale=time_scale,
    )
