"""Reading corrections, each with a bounded number of statements."""

from django.db.models import QuerySet

from programming.plans.models import Prescription
from programming.plans.models.correction import Correction


def why(prescription: Prescription) -> QuerySet[Correction]:
    """The corrections that made a prescription what it is, the latest first."""
    return Correction.objects.standing().filter(changes__prescription=prescription).distinct()
