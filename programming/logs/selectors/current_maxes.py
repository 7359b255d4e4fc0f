"""The max of a movement, as of a day: the one place that says what it is.

Two kinds, never mixed (`MaxKind`): the best max over all sets, and the technical max over sets in
which every reviewed rep was to standard. Both are steps over days: a record counts from its day on
until a later one. A max set by hand replaces whatever stood before and counts until a set of a
later day beats it. A rebuilt movement is another movement, so it starts with none.

    current_max(athlete=a, movement=m, kind=MaxKind.TECHNICAL, day=d) -> Max | None   one statement
    current_maxes(athlete=a, day=d) -> {(m.pk, kind): Max}                            one statement
    steps = max_steps(athletes=[a], movements=[m, n])                                 one statement
    steps.at(a.pk, m.pk, MaxKind.TECHNICAL, d) -> Max | None
    steps.line(a.pk, m.pk, MaxKind.BEST) -> (days, kg): two arrays; the max on a day is the entry
        before ``np.searchsorted(days, day.toordinal(), side="right")``, none before the first

Nothing is kept for a day after the last record: ask for any day, also one to come.
"""

from bisect import bisect_right
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any

import numpy as np
from django.db.models import F, QuerySet, Window
from django.db.models.functions import RowNumber

from athletes.models import User
from programming.logs.models import MaxKind, MaxRecord, MaxSource
from programming.movements.models import Movement

Key = tuple[int, int, str]  # athlete, movement, kind


@dataclass(frozen=True)
class Max:
    """``kg`` within ``low_kg`` to ``high_kg``; all three equal where lifted or set by
    hand.

    ``inputs`` of an estimate: equation, load (kg, text), reps, rpe (text or none), to_failure (two
    counts), at_least, day, set and clip (their ids, or empty), proved_by (the set that the lower
    end rests on, in the same words).
    """

    kg: Decimal
    low_kg: Decimal
    high_kg: Decimal
    kind: str
    source: str
    day: date
    inputs: dict[str, Any] = field(default_factory=dict, compare=False)
    reason: str = ""
    record: int = 0

    @property
    def at_least(self) -> bool:
        """The set's effort is not known: the max may lie anywhere above."""
        return bool(self.inputs.get("at_least"))

    @property
    def is_exact(self) -> bool:
        return self.low_kg == self.high_kg and not self.at_least

    @property
    def by_hand(self) -> bool:
        return self.source == MaxSource.HAND


def in_force_order(records: QuerySet[MaxRecord]) -> QuerySet[MaxRecord]:
    """Oldest first; of one day, what a person set counts after what was estimated."""
    return records.order_by("day", "source", "recorded_at", "pk")  # "estimate" < "hand"


def current_max(*, athlete: User, movement: Movement, kind: str, day: date) -> Max | None:
    """The max in force on ``day``; none while nothing speaks for one. One statement."""
    found = MaxRecord.objects.filter(athlete=athlete, movement=movement, kind=kind, day__lte=day)
    last = in_force_order(found).last()
    return None if last is None else as_max(last)


def current_maxes(*, athlete: User, day: date) -> dict[tuple[int, str], Max]:
    """Every max of this athlete in force on ``day``, by movement and kind. One statement, which
    returns no more rows for a longer history."""
    order = [F("day").desc(), F("source").desc(), F("recorded_at").desc(), F("pk").desc()]
    place = Window(RowNumber(), partition_by=["movement", "kind"], order_by=order)
    found = MaxRecord.objects.filter(athlete=athlete, day__lte=day).annotate(place=place)
    rows = found.filter(place=1).order_by()
    return {(row.movement_id, row.kind): as_max(row) for row in rows}


def max_steps(
    *, athletes: Iterable[User], movements: Iterable[Movement] | None = None
) -> "MaxSteps":
    """Every max of these athletes, of these movements or of all. One statement."""
    found = MaxRecord.objects.filter(athlete__in=list(athletes))
    if movements is not None:
        found = found.filter(movement__in=list(movements))
    steps: dict[Key, list[Max]] = {}
    for row in in_force_order(found):
        steps.setdefault((row.athlete_id, row.movement_id, row.kind), []).append(as_max(row))
    return MaxSteps(steps)


class MaxSteps:
    """Maxes of many athletes and movements over all days."""

    def __init__(self, steps: dict[Key, list[Max]]) -> None:
        self.steps = steps
        self._days = {key: [one.day for one in found] for key, found in steps.items()}

    def at(self, athlete_id: int, movement_id: int, kind: str, day: date) -> Max | None:
        """The max in force on ``day``."""
        key = (athlete_id, movement_id, kind)
        count = bisect_right(self._days.get(key, []), day)
        return self.steps[key][count - 1] if count else None

    def line(self, athlete_id: int, movement_id: int, kind: str) -> tuple[np.ndarray, np.ndarray]:
        """Day ordinals (int64, rising, each once) and the max from that day on (kg, float64)."""
        found = {
            one.day.toordinal(): float(one.kg)
            for one in self.steps.get((athlete_id, movement_id, kind), [])
        }
        return np.array(list(found), dtype=np.int64), np.array(list(found.values()), dtype=float)


def as_max(row: MaxRecord) -> Max:
    return Max(
        kg=row.kg,
        low_kg=row.low_kg,
        high_kg=row.high_kg,
        kind=MaxKind(row.kind),
        source=MaxSource(row.source),
        day=row.day,
        inputs=row.inputs,
        reason=row.reason,
        record=row.pk,
    )
