"""The queue, in the order worth doing. The number of SQL statements never grows with it."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from enum import IntEnum
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db.models import Case, Count, Exists, OuterRef, Q, QuerySet, Value, When
from django.utils import timezone

from athletes.models import User
from reviews.desk.models import Claim
from reviews.intake.models import Clip, State, Submission, Urgency
from reviews.permissions import submissions_reviewable_by


class Section(IntEnum):
    """The three parts of the desk, in the order they are answered."""

    FIRST = 0  # a warning sign or pain
    DUE = 1  # a check-back or another angle that came in, or one that has waited too long
    THEN = 2


def overdue_before(now: datetime) -> datetime:
    return now - timedelta(days=settings.OVERDUE_DAYS)


def waiting_for(coach: User) -> QuerySet[Submission]:
    """Everything the club's coaches have to answer, whoever has claimed it."""
    return submissions_reviewable_by(coach).filter(state=State.WAITING)


def in_queue_order(waiting: QuerySet[Submission]) -> QuerySet[Any]:
    """Warning signs, then pain, then what is due, then the rest; the oldest first in each."""
    now = timezone.now()
    came_back = Q(check_back_of__isnull=False) | Q(back_at__isnull=False)
    due = came_back | Q(sent_at__lt=overdue_before(now))
    section = Case(
        When(urgency__lt=Urgency.FORM, then=Value(Section.FIRST.value)),
        When(due, then=Value(Section.DUE.value)),
        default=Value(Section.THEN.value),
    )
    return waiting.annotate(section=section).order_by("section", "urgency", "sent_at", "pk")


def clip_counts(submissions: Iterable[UUID]) -> dict[UUID, int]:
    """How many clips each of these has; one with none is left out. One statement."""
    counted = Clip.objects.filter(submission__in=submissions).order_by()
    return dict(counted.values_list("submission").annotate(Count("pk")))


def live_claims(coach: User) -> dict[UUID, Claim]:
    """The live claims on what waits for this coach's club, by submission. One statement."""
    # From the few live claims to their submissions, not from all that waits to its claims.
    here = Exists(waiting_for(coach).filter(pk=OuterRef("submission")))
    live = Claim.objects.filter(here, until__gt=timezone.now())
    people = ["coach", "handed_by", "submission__athlete"]
    return {claim.submission_id: claim for claim in live.select_related(*people)}


def free_for(coach: User) -> QuerySet[Submission]:
    """What this coach may open now: not in another coach's hands."""
    live = Claim.objects.filter(submission=OuterRef("pk"), until__gt=timezone.now())
    return waiting_for(coach).filter(~Exists(live.exclude(coach=coach)))
