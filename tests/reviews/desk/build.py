"""Submissions for the desk's tests."""

from datetime import datetime, timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from athletes.models import PainReport, User
from programming.models import Movement
from programming.movements.families import Family
from reviews.desk.models import Claim
from reviews.intake.models import Clip, ClipState, State, Submission, Urgency


def sent(
    athlete: User,
    *,
    days: float = 1,
    clips: int = 1,
    pain: int | None = None,
    signs: tuple[str, ...] = (),
    where: str = "lower back",
    movement: str = "Low-bar squat",
    kg: str = "150",
    **facts: Any,
) -> Submission:
    """A submission that was sent ``days`` ago and waits, with its clips."""
    report = None
    if pain is not None or signs:
        report = PainReport.objects.create(
            athlete=athlete, where=where, score=pain or 0, signs=list(signs), since="Monday"
        )
    urgency = Urgency.FORM
    if report:
        urgency = Urgency.WARNING_SIGN if signs else Urgency.PAIN
    given = {"question": "Why do I tip forward?", "state": State.WAITING, **facts}
    submission = Submission.objects.create(
        club=athlete.club,
        athlete=athlete,
        pain=report,
        urgency=urgency,
        sent_at=timezone.now() - timedelta(days=days),
        **given,
    )
    # Not get(): a live server's test begins on an emptied database, shipped rows included.
    lifted, _ = Movement.objects.get_or_create(
        club=None, name=movement, defaults={"family": Family.SQUAT}
    )
    Clip.objects.bulk_create(
        Clip(
            submission=submission,
            position=position,
            movement=lifted,
            load_kg=Decimal(kg),
            reps=3,
            rpe=Decimal("8.5"),
            state=ClipState.PLAYABLE,
            recipe=1,
            frames=90,
            made={},
        )
        for position in range(1, clips + 1)
    )
    return submission


def answered(
    athlete: User, coach: User, *, minutes: float, clips: int = 1, at: datetime | None = None
) -> Submission:
    """One that this coach claimed and answered, ``minutes`` later."""
    end = at or timezone.now()
    submission = sent(athlete, days=2, clips=clips, state=State.ANSWERED, answered_at=end)
    start = end - timedelta(minutes=minutes)
    Claim.objects.create(submission=submission, coach=coach, taken_at=start, until=end)
    return submission
