"""An athlete's maxes side by side, as the file and the athlete's own page show them."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Count, Q
from django.db.models import Max as Latest

from athletes.models import User
from programming.logs.models import MaxKind, MaxRecord, SetVerdict
from programming.logs.range_chart import RangeChart, range_chart_of
from programming.logs.scatter import Filmed
from programming.logs.selectors.counted_sets import CLEAN, is_clean
from programming.logs.selectors.current_maxes import Max, current_maxes, in_force_order
from programming.models import Movement
from programming.movements.families import Family

ORDER = list(Family.values)
TOLD = Q(to_standard__gt=0) | Q(not_to_standard__gt=0)
KINDS = (MaxKind.TECHNICAL, MaxKind.BEST)


@dataclass(frozen=True)
class Counted:
    """Filmed sets with a rep that could be told, and those of them that were to standard."""

    judged: int = 0
    clean: int = 0
    last_clean: date | None = None


@dataclass(frozen=True)
class Line:
    """One movement of the athlete's."""

    movement: Movement
    technical: Max | None
    best: Max | None
    filmed: Counted

    @property
    def range_chart(self) -> RangeChart | None:
        return range_chart_of(self.technical, self.best)

    @property
    def share(self) -> int | None:
        """The technical max as per cent of the best one."""
        if self.technical is None or self.best is None:
            return None
        return round(self.technical.kg / self.best.kg * Decimal(100))


def lines_of(athlete: User, day: date) -> list[Line]:
    """Every movement with a max, a filmed set or a rebuilt technique of this athlete, by lift.
    Three statements."""
    maxes = current_maxes(athlete=athlete, day=day)
    counts = _counts(athlete, day)
    ids = {movement for movement, _ in maxes} | counts.keys()
    own = Q(athlete=athlete, retired_at=None)
    lines = []
    for movement in Movement.objects.filter(Q(pk__in=ids) | own).select_related("parent"):
        technical, best = (maxes.get((movement.pk, kind)) for kind in KINDS)
        count = counts.get(movement.pk, Counted())
        lines.append(Line(movement, technical, best, count))
    return sorted(lines, key=lambda one: (ORDER.index(one.movement.family), one.movement.order))


def _counts(athlete: User, day: date) -> dict[int, Counted]:
    rows = (
        SetVerdict.objects.filter(TOLD, athlete=athlete, day__lte=day)
        .order_by()
        .values_list("movement")
        .annotate(
            sets=Count("pk"), good=Count("pk", filter=CLEAN), newest=Latest("day", filter=CLEAN)
        )
    )
    return {movement: Counted(*counts) for movement, *counts in rows}


def history_of(athlete: User, movement: Movement, kind: str) -> list[MaxRecord]:
    """Every record of one max, newest first. One statement."""
    records = MaxRecord.objects.filter(athlete=athlete, movement=movement, kind=kind)
    return list(in_force_order(records.select_related("set_by")).reverse())


def filmed_of(athlete: User, movement: Movement) -> list[Filmed]:
    """The filmed sets of which a rep could be told, newest first. One statement."""
    rows = SetVerdict.objects.filter(TOLD, athlete=athlete, movement=movement)
    return [
        Filmed(row.day, row.load_kg, row.reps, row.to_standard, is_clean(row))
        for row in rows.select_related("logged_set").order_by("-day", "-load_kg")
    ]
