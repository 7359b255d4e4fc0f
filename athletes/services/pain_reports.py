"""Closing a pain report, and opening it again. Each function is one transaction."""

from django.db import transaction
from django.utils import timezone

from athletes.models import PainReport, User


@transaction.atomic
def close_pain_report(*, by: User, report: PainReport) -> None:
    """Closed twice, the first one counts."""
    still_open = PainReport.objects.filter(pk=report.pk, closed_at=None)
    still_open.update(closed_at=timezone.now(), closed_by=by)


@transaction.atomic
def reopen_pain_report(*, report: PainReport) -> None:
    PainReport.objects.filter(pk=report.pk).update(closed_at=None, closed_by=None)
