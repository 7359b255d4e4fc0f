"""Corrections that are to be looked at again: who films what, and by when."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from django.db.models import Exists, OuterRef, QuerySet

from athletes.models import User
from programming.plans.models.correction import Correction
from reviews.intake.models import State, Submission
from reviews.replies.models import CorrectionReason


@dataclass(frozen=True)
class CheckBackToCome:
    """One question to film again, with the corrections that hang on it; ``by``: the first day."""

    submission: Submission
    reasons: list[CorrectionReason]
    by: date

    @property
    def said(self) -> list[str]:
        return [reason.correction.said for reason in self.reasons]

    @property
    def faults(self) -> list[str]:
        return [reason.seen["fault"] for reason in self.reasons if reason.seen["fault"]]


def check_backs_to_come(athletes: Iterable[User] | QuerySet[User]) -> list[CheckBackToCome]:
    """Standing corrections with a check-back date that no check-back was sent for since, by
    question, the first due first. One statement."""
    sent = Submission.objects.filter(
        check_back_of=OuterRef("submission"), sent_at__gt=OuterRef("correction__made_at")
    ).exclude(state=State.DRAFT)
    open_ones = (
        CorrectionReason.objects.filter(
            correction__in=Correction.objects.standing().filter(athlete__in=athletes),
            correction__check_back_on__isnull=False,
        )
        .exclude(Exists(sent))
        .select_related("correction", "submission__athlete")
        .order_by("correction__check_back_on", "pk")
    )
    found: dict[object, CheckBackToCome] = {}
    for reason in open_ones:
        by = reason.correction.check_back_on
        assert by is not None  # asked for above
        check = found.setdefault(reason.submission_id, CheckBackToCome(reason.submission, [], by))
        check.reasons.append(reason)
    return list(found.values())


def overdue(checks: Iterable[CheckBackToCome], today: date) -> list[CheckBackToCome]:
    """Those whose day has come without a clip."""
    return [check for check in checks if check.by <= today]
