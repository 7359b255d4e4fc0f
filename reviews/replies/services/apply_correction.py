"""From a note to a change of the athlete's coming sessions, in one transaction."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from django.db import transaction
from django.db.models import Case, Max, QuerySet, When

from athletes.local_time import today_of
from athletes.models import User
from programming.corrections.correcting import apply
from programming.corrections.models import Correction
from programming.corrections.wishes import Wish
from reviews.intake.models import Submission
from reviews.replies.frame_times import clock_of
from reviews.replies.models import Call, CorrectionReason, Note, Outcome, RepCall
from reviews.replies.services.programme_notices import notify_applied


@dataclass(frozen=True, kw_only=True)
class Decision:
    """``seal`` is that of the preview the coach looked at."""

    wish: Wish
    seal: str
    check_back_on: date | None = None
    leave_clashes: bool = False


@transaction.atomic
def correct(*, coach: User, note: Note, decision: Decision) -> Correction:
    """The correction and its reason, both or neither. One transaction.

    Raises Invalid, see `programming.corrections.correcting.apply`.
    """
    # Locked: a reply that goes out at this moment either holds the correction or is before it.
    locked = Submission.objects.select_for_update(of=("self",)).select_related("athlete")
    submission = locked.get(pk=note.clip.submission_id)
    correction = apply(
        coach=coach,
        athlete=submission.athlete,
        wish=decision.wish,
        today=today_of(submission.athlete),
        seal=decision.seal,
        check_back_on=decision.check_back_on,
        leave_clashes=decision.leave_clashes,
    )
    reason = CorrectionReason.objects.create(
        correction=correction, submission=submission, note=note, seen=seen_in(note)
    )
    notify_applied(reason)
    return correction


def seen_in(note: Note) -> dict[str, Any]:
    """What a note says now, as `CorrectionReason.seen` keeps it."""
    clock = clock_of(note.clip)
    return {
        "clip": str(note.clip_id),
        "first_frame": note.first_frame,
        "last_frame": note.last_frame,
        "seconds": clock.at(note.first_frame) if clock else None,
        "rep": note.rep,
        "phase": note.phase,
        "fault": note.fault_name,
        "fault_id": note.fault_id,
        "cue": note.cue_text,
        "cue_id": note.cue_id,
        "drill": note.drill_text,
        "drill_id": note.drill_id,
        "text": note.text.strip(),
    }


def standing_reasons(submission: Submission) -> QuerySet[CorrectionReason]:
    """Why each correction of a review that still stands was made, in that order: one statement."""
    standing = Correction.objects.standing()
    made = CorrectionReason.objects.filter(submission=submission, correction__in=standing)
    return made.select_related("correction").order_by("correction__made_at")


def outcome_of(reason: CorrectionReason | None) -> Outcome | None:
    """What a coach last said, after a check-back, became of the note behind a correction."""
    if reason is None or reason.note_id is None:
        return None
    said = Outcome.objects.filter(
        note=reason.note_id, check_back__check_back_of=reason.submission_id
    )
    return said.order_by("pk").last()


def seen_before(note: Note) -> list[tuple[Decimal, bool]]:
    """The athlete's called sets of this movement: load (kg), and whether the note's fault broke a
    rep of it. Reps nobody could tell count for neither. One statement."""
    if note.fault_id is None:
        return []
    called = RepCall.objects.filter(
        clip__submission__athlete=note.clip.submission.athlete_id,
        clip__movement=note.clip.movement_id,
        clip__load_kg__isnull=False,
        call__in=[Call.STANDARD, Call.NOT_STANDARD],
    )
    shows = Max(Case(When(faults=note.fault_id, then=1), default=0))
    sets = called.values("clip", "clip__load_kg").annotate(shows=shows)
    return [
        (load, bool(row["shows"])) for row in sets if (load := row["clip__load_kg"]) is not None
    ]
