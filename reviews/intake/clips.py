"""The clips of a submission before their video is in. Each public function is one transaction.

Clips belong to a draft, or answer a coach who asked for another angle; whatever was sent is locked.
"""

from collections.abc import Mapping
from typing import Any

from django.db import transaction
from django.db.models import Max
from django.utils.timezone import now

from athletes.local_time import today_of
from coachdesk.common.errors import Conflict
from programming.logs.unusual_load import Attempt, question
from reviews.intake.angles import open_angle
from reviews.intake.forgetting import delete_clip
from reviews.intake.locking import lock_submission_of
from reviews.intake.models import AngleRequest, Clip, ClipState, State, Submission

MOST_CLIPS = 12  # a question is about one lift; more clips belong to another question
MOST_ASKED = 4  # for one request; the question's own clips do not count against it
TOLD = ("movement", "load_kg", "load_unit", "reps", "rpe", "reps_in_reserve", "view", "shows_fault")
CARRIED = ("movement", "load_unit", "view")  # the next clip is mostly of the same lift


@transaction.atomic
def add_clip(*, submission: Submission, unit: str) -> Clip:
    """A clip at the end, told like the one before it; from the view a coach asked for, if any did.

    Raises Conflict, and DoesNotExist when it was sent and nothing more is asked for.
    """
    found = Submission.objects.select_for_update()
    submission = found.get(pk=submission.pk, state__in=[State.DRAFT, State.WAITING_ON_ATHLETE])
    asked = open_angle(submission)
    if asked and asked.clips.count() >= MOST_ASKED:
        raise Conflict(f"{MOST_ASKED} clips are enough to see it. Take one out to add another.")
    if not asked and submission.clips.count() >= MOST_CLIPS:
        raise Conflict(f"A question can have {MOST_CLIPS} clips. Ask the rest in another one.")
    before = submission.clips.last() or _filmed_before(submission)
    last = submission.clips.aggregate(n=Max("position"))["n"] or 0
    told = {name: getattr(before, name) for name in CARRIED} if before else {"load_unit": unit}
    if asked:
        told |= {"angle": asked, "view": asked.view}
    clip = Clip.objects.create(submission=submission, position=last + 1, **told)
    _touch(submission)
    return clip


def _filmed_before(check_back: Submission) -> Clip | None:
    """The clip that a check-back is to be like: the one said to show the fault, else the first."""
    earlier = Clip.objects.filter(submission=check_back.check_back_of_id)
    return earlier.order_by("-shows_fault", "position").first()


@transaction.atomic
def save_clip(*, clip: Clip, changes: Mapping[str, Any], load_confirmed: bool = False) -> Clip:
    """Store validated changes of what was on the bar and where the camera stood.

    What came later may still be told about while the question waits: the video can be ready before
    the last field is typed. Raises DoesNotExist once it is locked, and UnusualLoad.
    """
    open_ = [State.WAITING_ON_ATHLETE, State.WAITING] if clip.angle_id else [State.DRAFT]
    submission = _locked(clip, open_)
    if not load_confirmed and not changes.keys().isdisjoint({"movement", "load_kg"}):
        _question_load(submission, clip, changes)
    fields = [name for name in TOLD if name in changes]
    for name in fields:
        setattr(clip, name, changes[name])
    if fields:
        clip.save(update_fields=fields)
    _touch(submission)
    return clip


@transaction.atomic
def remove_clip(*, clip: Clip) -> None:
    """Take a clip out, with its video. Raises DoesNotExist once a coach may be looking at it."""
    submission = _locked(clip, [State.WAITING_ON_ATHLETE] if clip.angle_id else [State.DRAFT])
    if clip.angle_id and not AngleRequest.objects.filter(pk=clip.angle_id, settled_at=None):
        raise Submission.DoesNotExist
    for found in submission.clips.filter(pk=clip.pk):  # with the video that came since it was read
        delete_clip(found)
    _touch(submission)


@transaction.atomic
def replace_clip(*, clip: Clip) -> Clip:
    """A fresh clip in the place of one that failed, told the same; also after sending.

    A clip has one original for life, so the video comes to a new row. Raises Conflict: only one
    that failed, or whose video never came, can be replaced.
    """
    lock_submission_of(clip.pk)
    clip = Clip.objects.select_for_update().get(pk=clip.pk)
    if clip.state not in {ClipState.FAILED, ClipState.RECEIVING}:
        raise Conflict("This clip has its video. Add another clip instead.")
    told = {name: getattr(clip, name) for name in (*TOLD, "angle")}
    fresh = Clip.objects.create(submission_id=clip.submission_id, position=clip.position, **told)
    delete_clip(clip)
    return fresh


def _question_load(submission: Submission, clip: Clip, changes: Mapping[str, Any]) -> None:
    """One that stands already was meant for its movement; for another it is asked about again."""
    stored = submission.clips.get(pk=clip.pk)
    movement = changes.get("movement", stored.movement)
    kg = changes.get("load_kg", stored.load_kg)
    if not movement or not kg or (movement, kg) == (stored.movement, stored.load_kg):
        return
    others = submission.clips.filter(movement=movement).exclude(pk=clip.pk)
    athlete = submission.athlete
    question(
        Attempt(
            athlete=athlete,
            day=today_of(athlete),
            movement=movement,
            kg=kg,
            unit=changes.get("load_unit", stored.load_unit),
            beside=others.values_list("load_kg", flat=True),
        )
    )


def _locked(clip: Clip, states: list[State]) -> Submission:
    found = Submission.objects.select_for_update()
    return found.get(pk=clip.submission_id, state__in=states)


def _touch(submission: Submission) -> None:
    Submission.objects.filter(pk=submission.pk).update(saved_at=now())
