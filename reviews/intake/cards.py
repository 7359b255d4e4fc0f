"""A clip as the submit page shows it: what was told, and how far its video is."""

from typing import Any

from django.urls import reverse

from coachdesk.common.units import as_typed
from reviews.intake.clip_data import media_url
from reviews.intake.jobs import RECIPE
from reviews.intake.models import Clip, ClipState, Upload
from reviews.intake.partial import Partial


def clip_card(clip: Clip) -> dict[str, Any]:
    """The JSON of one clip. `received` and `progress` run from 0 to 1."""
    upload = clip.uploads.filter(finished_at=None).first()
    job = clip.jobs.filter(recipe=RECIPE).first() if clip.state == ClipState.PROCESSING else None
    return {
        "id": str(clip.id),
        "url": reverse("api-clip", args=[clip.id]),
        "position": clip.position,
        "state": clip.state,
        "reason": clip.reason,
        "progress": job.progress if job else 0,
        "poster": media_url(clip, "poster") if clip.is_playable else "",
        "filename": clip.filename,
        "size": clip.size,
        "upload": _upload_card(upload) if upload else None,
        "movement": clip.movement_id,
        "load": {
            "value": "" if clip.load_kg is None else as_typed(clip.load_kg, clip.load_unit),
            "unit": clip.load_unit,
        },
        "reps": clip.reps,
        "rpe": None if clip.rpe is None else f"{clip.rpe.normalize():f}",
        "reps_in_reserve": clip.reps_in_reserve,
        "view": clip.view,
        "shows_fault": clip.shows_fault,
        "locked": clip.angle_id is None and not clip.submission.is_draft,
    }


def _upload_card(upload: Upload) -> dict[str, Any]:
    """Where the video goes on. Looking does not disturb a writer, unlike the protocol's HEAD."""
    path = Partial(upload.id).path
    offset = path.stat().st_size if path.exists() else upload.offset
    return {
        "url": reverse("upload", args=[upload.id]),
        "offset": offset,
        "length": upload.length,
    }
