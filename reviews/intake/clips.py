"""The clips of a submission before their video is in. Each public function is one transaction."""

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils.timezone import now

from reviews.intake.forgetting import delete_clip
from reviews.intake.models import Clip, ClipState, State, Submission

MOST_CLIPS = 12
TOLD = ("movement", "load_kg", "load_unit", "reps", "rpe", "reps_in_reserve", "view", "shows_fault")
CARRIED = ("movement", "load_unit", "view")  # the next clip is mostly of the same lift


class TooMany(Exception):
    """A question is about one lift; more clips than this belong to another question."""


class HasVideo(Exception):
    """Only a clip that failed, or whose video never came, can be replaced."""


@transaction.atomic
def add_clip(*, draft: Submission, unit: str) -> Clip:
    """A clip at the end, told like the one before it. Raises TooMany, DoesNotExist if sent."""
    draft = Submission.objects.select_for_update().get(pk=draft.pk, state=State.DRAFT)
    before = draft.clips.last()
    if draft.clips.count() >= MOST_CLIPS:
        raise TooMany(f"A question can have {MOST_CLIPS} clips. Ask the rest in another one.")
    last = draft.clips.aggregate(n=Max("position"))["n"] or 0
    told = {name: getattr(before, name) for name in CARRIED} if before else {"load_unit": unit}
    clip = Clip.objects.create(submission=draft, position=last + 1, **told)
    _touch(draft)
    return clip


@transaction.atomic
def save_clip(*, clip: Clip, changes: Mapping[str, Any]) -> Clip:
    """Store validated changes of what was on the bar and where the camera stood."""
    draft = Submission.objects.select_for_update().get(pk=clip.submission_id, state=State.DRAFT)
    fields = [name for name in TOLD if name in changes]
    for name in fields:
        setattr(clip, name, changes[name])
    if fields:
        clip.save(update_fields=fields)
    _touch(draft)
    return clip


@transaction.atomic
def remove_clip(*, clip: Clip) -> None:
    """Take a clip out of a draft, with its video. Raises DoesNotExist once it was sent."""
    draft = Submission.objects.select_for_update().get(pk=clip.submission_id, state=State.DRAFT)
    delete_clip(clip)
    _touch(draft)


@transaction.atomic
def replace_clip(*, clip: Clip) -> Clip:
    """A fresh clip in the place of one that failed, told the same; also after sending.

    A clip has one original for life, so the video comes to a new row. Raises HasVideo.
    """
    clip = Clip.objects.select_for_update().get(pk=clip.pk)
    if clip.state not in {ClipState.FAILED, ClipState.RECEIVING}:
        raise HasVideo("This clip has its video. Add another clip instead.")
    told = {name: getattr(clip, name) for name in TOLD}
    fresh = Clip.objects.create(submission_id=clip.submission_id, position=clip.position, **told)
    delete_clip(clip)
    return fresh


def _touch(draft: Submission) -> None:
    Submission.objects.filter(pk=draft.pk).update(saved_at=now())
