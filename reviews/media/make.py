"""Run the one ffmpeg process and say how far it is."""

from collections.abc import Callable, Sequence
from pathlib import Path

from reviews.media.limits import Limits
from reviews.media.refusals import Refused
from reviews.media.run import run
from reviews.media.tools import ffmpeg_exe

Progress = Callable[[float], None]


def make(
    words: Sequence[str], *, folder: Path, frames: int, limits: Limits, on_progress: Progress
) -> None:
    """Run ffmpeg with `words` in `folder`, which holds only the input.

    `on_progress` gets the share of `frames` that is done, 0 to 1, never backward. Raises Refused
    when ffmpeg gives up or stands still, Interrupted when the machine is to blame.
    """
    meter = _Meter(frames, on_progress)
    ran = run(
        [ffmpeg_exe(), *words],
        folder=folder,
        limits=limits,
        wall_seconds=limits.wall_seconds,
        stall_seconds=limits.stall_seconds,
        on_line=meter.read,
    )
    if ran.status != 0:
        reason = "too_hard" if "Cannot allocate memory" in ran.errors else "damaged"
        raise Refused(reason, f"ffmpeg ended with {ran.status}: {ran.errors[-500:]}")


class _Meter:
    """Reads ffmpeg's `-progress` lines (key=value) and passes on what moves."""

    def __init__(self, frames: int, on_progress: Progress) -> None:
        self._frames = max(frames, 1)
        self._on_progress = on_progress
        self._best: dict[str, int] = {}

    def read(self, line: str) -> bool:
        """True when `line` shows that the work moved on."""
        key, _, value = line.partition("=")
        if key not in ("frame", "out_time_us", "total_size") or not value.isdigit():
            return False
        moved = int(value) > self._best.get(key, 0)
        if moved:
            self._best[key] = int(value)
            if key == "frame":
                self._on_progress(min(1.0, int(value) / self._frames))
        return moved
