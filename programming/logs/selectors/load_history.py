"""An athlete's load over some weeks, from the day summaries: a bounded number of statements."""

from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

import numpy as np
from django.db.models import Min

from athletes.models import User
from programming.load.averages import MONTH, WEEK, Comparison, compare, ewma
from programming.load.weeks import Week, run_of_days, weeks
from programming.logs.load_measures import BY_KEY, Measure
from programming.logs.models import DaySummary

EPOCH = date(1970, 1, 1)
# Days before the window that its averages are started from. What an older day would still weigh
# is (27/29)^400, less than a trillionth.
WARM_DAYS = 400


@dataclass(frozen=True)
class WeekLine:
    """A week of the measure, with what is known of it and the lifting beside it."""

    monday: date
    week: Week
    known: int
    of: int
    intensity: float | None  # mean load of a rep as a share of the max

    @property
    def sunday(self) -> date:
        return self.monday + timedelta(days=6)

    @property
    def partly(self) -> bool:
        return self.known < self.of or self.week.has_gap


@dataclass(frozen=True)
class History:
    measure: Measure
    first: date  # of the window, a Monday unless the log began later
    last: date
    lines: list[WeekLine]
    seven: np.ndarray
    month: np.ndarray
    compared: Comparison

    def days(self) -> list[date]:
        return [self.first + timedelta(days=n) for n in range(len(self.seven))]


def history_of(
    athlete: User, *, measure: str, family: str, last: date, count: int
) -> History | None:
    """``count`` weeks up to ``last``; none when nothing was ever logged. Two statements."""
    shown = BY_KEY[measure]
    rows = DaySummary.objects.filter(athlete=athlete, family=family if shown.by_family else "")
    began = rows.aggregate(began=Min("day"))["began"]
    if began is None or began > last:
        return None
    monday = last - timedelta(days=last.weekday())
    first = max(monday - timedelta(weeks=count - 1), began)
    warm = max(first - timedelta(days=WARM_DAYS), began)
    columns = ["day", shown.figure, shown.known, shown.of, "relative_volume_load", "reps_with_max"]
    stored = list(rows.filter(day__gte=warm, day__lte=last).values_list(*columns))
    strict = shown.key == "effort"  # one unknown session hides a day; an unloaded set does not
    run = run_of_days(
        np.array([(row[0] - EPOCH).days for row in stored], np.int64),
        np.array([_value(row, strict) for row in stored], np.float64),
        (warm - EPOCH).days,
        (last - EPOCH).days,
    )
    before = (first - warm).days
    made = [_line(week, stored) for week in weeks(run[before:], (first - EPOCH).days)]
    return History(
        measure=shown,
        first=first,
        last=last,
        lines=made,
        seven=ewma(run, WEEK)[before:],
        month=ewma(run, MONTH)[before:],
        compared=compare(run),
    )


def _value(row: tuple[Any, ...], strict: bool) -> float:
    _, value, known, of = row[:4]
    return np.nan if value is None or not known or (strict and known < of) else float(value)


def _line(week: Week, stored: list[tuple[Any, ...]]) -> WeekLine:
    monday = EPOCH + timedelta(days=week.monday)
    inside = [row for row in stored if monday <= row[0] < monday + timedelta(days=7)]
    reps = sum(row[5] for row in inside)
    relative = sum(row[4] or 0 for row in inside)
    return WeekLine(
        monday=monday,
        week=week,
        known=sum(row[2] for row in inside),
        of=sum(row[3] for row in inside),
        intensity=relative / reps if reps else None,
    )
