"""A coach's calls on the reps of a filmed set enter the maxes. Each public function is one
transaction."""

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from uuid import UUID

from django.db import transaction

from athletes.models import User
from programming.logs.models import SetVerdict
from programming.logs.services.refresh_maxes import refresh_days
from programming.movements.models import Movement


@dataclass(frozen=True, kw_only=True)
class Judged:
    """A filmed set and how its reps were called. ``source`` names the film, ``day`` is the
    athlete's local date, ``reps`` all that were tried."""

    source: UUID
    movement: Movement
    day: date
    load_kg: Decimal
    reps: int
    rpe: Decimal | None
    to_standard: int
    not_to_standard: int
    cannot_tell: int


@transaction.atomic
def record_verdicts(
    *, athlete: User, judged: Collection[Judged], unjudged: Collection[UUID] = ()
) -> None:
    """Keep how each filmed set was called, in the place of how it was called before, and bring the
    maxes up to date. ``unjudged`` are films that no longer say anything. One transaction; a second
    time with the same changes nothing."""
    sources = [one.source for one in judged]
    known = SetVerdict.objects.filter(athlete=athlete, source__in=[*sources, *unjudged])
    days = set(known.values_list("day", flat=True)) | {one.day for one in judged}
    known.filter(source__in=unjudged).delete()
    for one in judged:
        facts = {**vars(one), "athlete": athlete}
        SetVerdict.objects.update_or_create(source=facts.pop("source"), defaults=facts)
    refresh_days(athlete=athlete, days=days)
