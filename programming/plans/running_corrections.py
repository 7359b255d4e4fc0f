"""Prescriptions that a running correction holds: a coach may change their dose, not lose them."""

from decimal import Decimal

from django.db.models import Prefetch, QuerySet

from coachdesk.common.errors import Invalid
from programming.plans.models import Change, Prescription


def with_corrections(lines: QuerySet[Prescription]) -> QuerySet[Prescription]:
    """Each with ``running``: the changes that running corrections made to it."""
    live = Change.objects.running().select_related("correction__made_by")
    running: Prefetch = Prefetch("changes", queryset=live, to_attr="running")
    return lines.prefetch_related(running)


def refuse_corrected(lines: QuerySet[Prescription]) -> None:
    """Raises Invalid if one of them would take a running correction's work with it."""
    for line in with_corrections(lines):
        if line.running:
            label = line.running[0].correction.said
            raise Invalid(f"A correction holds this: {label}. Take the correction back first.")


def lowest_cap(line: Prescription, wanted: Decimal | None) -> Decimal | None:
    """The cap to write: what is wanted, but never above what a running correction set."""
    if not line.running or line.cap_percent is None:
        return wanted
    return line.cap_percent if wanted is None else min(wanted, line.cap_percent)
