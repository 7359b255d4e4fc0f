"""What pages and the API say about a clip, in the shape the workbench's panels share."""

import json
from pathlib import Path
from typing import Any

from django.core.files.storage import default_storage
from django.db.models import QuerySet, prefetch_related_objects
from django.urls import reverse

from athletes.models import User
from coachdesk.common.units import shown
from programming.load.effort import LEAST_RPE, rpe_of
from programming.movements.families import Family, phases_of
from reviews.intake.camera_views import shows
from reviews.intake.jobs import RECIPE
from reviews.intake.models import Clip, ClipState

_FRAMES_AT_HAND = 2000  # some 15 kB; half a minute at 60 frames a second


PROGRESS = ("jobs", "uploads")


def with_progress(clips: QuerySet[Clip]) -> QuerySet[Clip]:
    """`clips` with all that `clip_data` reads, in three statements however many there are."""
    return clips.select_related("movement").prefetch_related(*PROGRESS)


def read_with_progress(clips: QuerySet[Clip]) -> list[Clip]:
    """The same, read now, in one statement where all of them play."""
    read = list(clips.select_related("movement"))
    prefetch_related_objects([clip for clip in read if not clip.is_playable], *PROGRESS)
    return read


def clip_data(clip: Clip, reader: User) -> dict[str, Any]:
    """The facts of one clip for `reader`, in whose unit the load is.

    Addresses are "" and sizes 0 until it is playable; progress is 0 to 1, of the upload and then
    of the making; `reason` is a sentence when it will not play.
    """
    family = clip.movement.family if clip.movement else Family.OTHER
    return {
        "id": str(clip.pk),
        "position": clip.position,
        "movement": clip.movement.name if clip.movement else "",
        "family": str(family),
        "phases": [str(phase) for phase in phases_of(family)],
        "load": "" if clip.load_kg is None else shown(clip.load_kg, reader.unit),
        "unit": reader.unit,
        "reps": clip.reps or 0,
        "rpe": _rpe(clip),
        "effort": clip.effort,
        "view": clip.view,
        "view_label": clip.get_view_display(),
        "shows": shows(family, clip.view),
        "shows_fault": clip.shows_fault,
        "status": clip.state,
        "progress": _progress(clip),
        "reason": clip.reason,
        **clip_pictures(clip),
    }


def media_url(clip: Clip, kind: str) -> str:
    """Address of one derived file. Names the version, so that a browser may keep it."""
    return reverse("clip-media", args=[clip.pk, kind]) + f"?v={version_of(clip)}"


def version_of(clip: Clip) -> str:
    return f"{clip.sha256[:12]}-{clip.recipe}"


def clip_pictures(clip: Clip) -> dict[str, Any]:
    """Addresses and sizes of what was derived; empty words and zeros while it is not playable."""
    if not clip.is_playable or clip.made is None:
        empty: dict[str, Any] = {"playable": "", "frames_url": "", "poster": "", "filmstrip": None}
        return empty | {"width": 0, "height": 0, "frame_count": 0}
    strip = clip.made["filmstrip"]
    parts = ("tile_width", "tile_height", "count", "columns", "frames")
    return {
        "playable": media_url(clip, "playable"),
        "frames_url": media_url(clip, "frames"),
        "poster": media_url(clip, "poster"),
        "filmstrip": {"url": media_url(clip, "filmstrip"), **{part: strip[part] for part in parts}},
        "width": clip.made["width"],
        "height": clip.made["height"],
        "frame_count": clip.frames,
    }


def table_at_hand(clip: Clip) -> dict[str, Any] | None:
    """The frame table for a page to bring along: one request less before the first step. None where
    it is long, damaged, or in a storage elsewhere; then the page asks for it."""
    if not clip.is_playable or clip.made is None or (clip.frames or 0) > _FRAMES_AT_HAND:
        return None
    try:
        path = default_storage.path(f"{clip.derived_folder}/{clip.made['files']['frames']}")
        return dict(json.loads(Path(path).read_bytes()))
    except (NotImplementedError, OSError, ValueError):
        return None


def _progress(clip: Clip) -> float:
    if clip.is_playable:
        return 1.0
    if clip.state == ClipState.RECEIVING:
        arriving = max(clip.uploads.all(), key=lambda upload: upload.created_at, default=None)
        return arriving.offset / arriving.length if arriving and arriving.length else 0.0
    return max((job.progress for job in clip.jobs.all() if job.recipe == RECIPE), default=0.0)


def _rpe(clip: Clip) -> str:
    """As a number of the scale; "" where it gives none for so many reps in reserve."""
    rpe = rpe_of(clip.rpe, clip.reps_in_reserve)
    known = rpe is not None and (clip.rpe is not None or rpe >= LEAST_RPE)
    return f"{rpe.normalize():f}" if rpe is not None and known else ""
