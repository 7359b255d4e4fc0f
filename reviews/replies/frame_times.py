"""Frames of a clip, checked and put into seconds. The frame table is the only clock."""

import json
from pathlib import PurePosixPath
from typing import Any

from django.core.files.storage import default_storage

from coachdesk.common.errors import Invalid
from reviews.intake.models import Clip


def check_frames(clip: Clip, first: int, last: int) -> None:
    """Refuse a moment that does not lie on the clip, or runs backwards."""
    if not clip.is_playable or clip.frames is None:
        raise Invalid(f"Clip {clip.position} has no frames to point at yet.")
    if last < first:
        raise Invalid("The moment ends before it begins.")
    if first < 0 or last >= clip.frames:
        raise Invalid(f"Clip {clip.position} has frames 0 to {clip.frames - 1}.")


class Clock:
    """When each frame of a clip is shown, in seconds from its first."""

    def __init__(self, table: dict[str, Any]) -> None:
        self._pts: list[int] = table["pts"]
        self._ticks: int = table["timescale"]
        self._end: int = table["duration"]
        self.seconds: float = self._end / self._ticks

    def at(self, frame: int) -> float:
        """The frame's start, to the millisecond."""
        return round(self._pts[frame] / self._ticks, 3)

    def until(self, frame: int) -> float:
        """The frame's end, where the next one starts; the last ends with the clip."""
        following = [*self._pts[frame + 1 : frame + 2], self._end]
        return round(following[0] / self._ticks, 3)


def clock_of(clip: Clip) -> Clock | None:
    """The clip's clock, or None while it has none."""
    if not clip.is_playable or clip.made is None:
        return None
    name = PurePosixPath(clip.derived_folder) / clip.made["files"]["frames"]
    with default_storage.open(str(name)) as file:
        return Clock(json.load(file))
