"""What the coaches of the demo say, saved and published through the same doors as a page."""

import json
import uuid
from datetime import timedelta
from decimal import Decimal
from pathlib import Path
from typing import Any

from athletes.local_time import day_at, today_of
from athletes.models import User
from coachdesk.demo.scenario import Answer, DrillChange, Point
from programming.corrections.preview import preview
from programming.corrections.requests import Wish
from programming.models import Movement
from programming.plans.models import TargetKind
from programming.plans.models.correction import Kind
from reviews.desk.claiming import ClaimedByOther, claim, live_claim
from reviews.desk.models import Claim
from reviews.intake.models import Clip, Submission
from reviews.library.models import Fault
from reviews.replies.models import Note
from reviews.replies.services.apply_correction import apply_correction
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.mark_read import mark_understood
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_note import save_note
from reviews.replies.services.save_reply import save_reply

MINUTES_SPENT = 8  # what the pace on the desk is learnt from


def coach_of(submission: Submission, key: str) -> User:
    return User.objects.get(club=submission.club_id, email__startswith=f"{key}@")


def hold(submission: Submission, key: str) -> None:
    """Somebody else is on this one, for as long as a claim lasts."""
    if live_claim(submission) is None and not Claim.objects.filter(submission=submission).exists():
        claim(submission=submission, coach=coach_of(submission, key))


def answer(submission: Submission, said: Answer, truths: Path) -> None:
    """Claim, note, call, write and send."""
    coach = coach_of(submission, said.coach)
    try:
        claim(submission=submission, coach=coach)
    except ClaimedByOther:  # the newcomer is at work on it; theirs stands
        return
    clips = list(submission.clips.order_by("position"))
    truth = [json.loads((truths / f"{clip.pk}.json").read_text()) for clip in clips]
    ranks = [_note(coach, clips, truth, point) for point in said.points]
    for clip, seen in zip(clips, truth, strict=True):
        _call(coach, clip, seen, said)
    for note, point in zip(ranks, said.points, strict=True):
        if point.change:
            _change(coach, submission.athlete, note, point.change)
    assert submission.sent_at is not None
    sent_at = submission.sent_at + timedelta(hours=said.after_hours)
    by = day_at(submission.athlete, sent_at) + timedelta(days=said.film_again_days)
    save_reply(
        coach=coach,
        submission_id=submission.pk,
        fields={
            "opening": said.opening,
            "film_again_by": by,
            "film_again_note": said.film_again,
        },
        ranks=[note for note, point in zip(ranks, said.points, strict=True) if point.ranked],
    )
    version = publish_reply(coach=coach, submission_id=submission.pk, sent_at=sent_at)
    begun = sent_at - timedelta(minutes=MINUTES_SPENT + len(said.points))
    Claim.objects.filter(submission=submission).update(taken_at=begun)
    if said.understood:
        mark_understood(athlete=submission.athlete, submission=submission, number=version.number)


def _note(coach: User, clips: list[Clip], truth: list[Any], point: Point) -> uuid.UUID:
    clip = clips[point.clip]
    phases = truth[point.clip]["reps"][point.rep - 1]["phases"]
    first, last = next((p["first"], p["last"]) for p in phases if p["name"] == point.phase)
    frame = round(first + (last - first) * point.at)
    assert clip.movement is not None
    fault = Fault.objects.get(
        club=clip.submission.club_id, family=clip.movement.family, name=point.fault
    )
    note = uuid.uuid4()
    seen = {
        "clip_id": clip.pk,
        "first_frame": frame,
        "last_frame": frame,
        "phase": point.phase,
        "rep": point.rep,
        "text": point.text,
        "fault": fault,
        "cue": fault.cues.first() if point.ranked else None,
        "drill": fault.drills.first() if point.ranked else None,
    }
    save_note(coach=coach, note_id=note, **seen)
    return note


def _change(coach: User, athlete: User, note: uuid.UUID, change: DrillChange) -> None:
    today = today_of(athlete)
    row = Note.objects.get(pk=note)
    assert row.clip.movement is not None
    wish = Wish(
        kind=Kind.ADD_DRILL,
        movement=row.clip.movement,
        until=today + timedelta(days=change.days),
        drill=Movement.objects.get(club=None, name=change.movement),
        sets=change.sets,
        reps=change.reps,
        target_kind=TargetKind.RPE,
        target=Decimal(change.rpe),
    )
    apply_correction(
        coach=coach,
        note=row,
        wish=wish,
        seal=preview(athlete, wish, today=today).seal,
        check_back_on=today + timedelta(days=change.days),
    )


def _call(coach: User, clip: Clip, truth: Any, said: Answer) -> None:
    point = said.points[0]
    assert clip.movement is not None
    fault = Fault.objects.filter(
        club=clip.submission.club_id, family=clip.movement.family, name=point.fault
    )
    for rep in truth["reps"]:
        broken = clip.shows_fault and rep["number"] in said.broken
        verdict = {
            "call": "not-standard" if broken else "standard",
            "faults": list(fault) if broken else [],
            "first_frame": rep["first"],
            "last_frame": rep["last"],
        }
        call_rep(coach=coach, clip_id=clip.pk, rep=rep["number"], **verdict)
