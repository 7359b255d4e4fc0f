"""Reading corrections, each with a bounded number of statements."""

from datetime import date

from django.db.models import QuerySet

from programming.corrections.models import Correction
from programming.plans.models import Prescription


def why(prescription: Prescription) -> QuerySet[Correction]:
    """The corrections that made a prescription what it is, the latest first."""
    return Correction.objects.filter(
        changes__prescription=prescription, taken_back_at=None
    ).distinct()


def due(corrections: QuerySet[Correction], *, by: date) -> QuerySet[Correction]:
    """Those to be checked on or before a day, the longest due first."""
    return corrections.filter(taken_back_at=None, check_back_on__lte=by).order_by("check_back_on")
