"""Submissions for the desk's tests."""

from collections.abc import Callable
from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.utils import timezone

from athletes.models import PainReport, User
from programming.models import Movement
from reviews.intake.models import Clip, State, Submission, Urgency

Waiting = Callable[..., Submission]


@pytest.fixture
def waiting(cast) -> Waiting:
    """Make a sent submission: ``waiting(days=2, clips=2, pain=4)``."""
    squat = Movement.objects.get(name="Low-bar squat")

    def make(
        *,
        athlete: User | None = None,
        days: float = 1,
        clips: int = 1,
        pain: int | None = None,
        signs: tuple[str, ...] = (),
        **facts: Any,
    ) -> Submission:
        who = athlete or cast.athlete
        report = None
        if pain is not None or signs:
            report = PainReport.objects.create(
                athlete=who, where="lower back", score=pain or 0, signs=list(signs)
            )
        urgency = Urgency.FORM
        if report:
            urgency = Urgency.WARNING_SIGN if signs else Urgency.PAIN
        given = {"question": "Why do I tip forward?", "state": State.WAITING, **facts}
        submission = Submission.objects.create(
            club=who.club,
            athlete=who,
            pain=report,
            urgency=urgency,
            sent_at=timezone.now() - timedelta(days=days),
            **given,
        )
        for position in range(1, clips + 1):
            Clip.objects.create(
                submission=submission,
                position=position,
                movement=squat,
                load_kg=Decimal("150"),
                reps=3,
                rpe=Decimal("8.5"),
            )
        return submission

    return make
