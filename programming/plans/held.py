"""Prescriptions that a running correction holds: a coach may change their dose, not lose them."""

from collections.abc import Iterable
from decimal import Decimal

from django.apps import apps
from django.db.models import Prefetch, QuerySet

from coachdesk.common.errors import Invalid
from programming.plans.models import Prescription


def with_corrections(lines: QuerySet[Prescription]) -> QuerySet[Prescription]:
    """Each with ``running``: the changes that running corrections made to it."""
    changes = apps.get_model("programming", "Change")._default_manager  # of a wing after this one
    live = changes.running()
    return lines.prefetch_related(
        Prefetch("changes", queryset=live.select_related("correction__made_by"), to_attr="running")
    )


def refuse_held(lines: QuerySet[Prescription]) -> None:
    """Raises Invalid if one of them would take a running correction's work with it."""
    for line in with_corrections(lines):
        if line.running:  # type: ignore[attr-defined]
            said = line.running[0].correction.said  # type: ignore[attr-defined]
            raise Invalid(f"A correction holds this: {said}. Take the correction back first.")


def lowest_cap(line: Prescription, wanted: Decimal | None) -> Decimal | None:
    """The cap to write: what is wanted, but never above what a running correction set."""
    holds: Iterable[object] = line.running  # type: ignore[attr-defined]
    if not holds or line.cap_percent is None:
        return wanted
    return line.cap_percent if wanted is None else min(wanted, line.cap_percent)
