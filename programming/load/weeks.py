"""A run of days without holes from the days that were logged, and its weeks, Monday to Sunday."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from programming.load.figures import Figure, Why
from programming.load.session_rpe import monotony, strain

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

# A day without a session is rest, as long as the log goes on. When nothing at all was logged for
# this many days nobody knows if it was rest: a gap. (Our choice, no source: a week is the unit of
# training, and one that nobody logged has no load to compare.)
SILENT_DAYS = 7


def run_of_days(days: Ints, values: Floats, first: int, last: int) -> Floats:
    """A value for each day from ``first`` to ``last``, both included: what was logged (NaN where
    it is not known), 0 on a rest day, NaN in a silence.

    ``days`` are day numbers, each once, in any order; what lies outside the run is left out.
    """
    run = np.zeros(max(last - first + 1, 0))
    inside = (days >= first) & (days <= last)
    at = np.sort(days[inside] - first)
    run[days[inside] - first] = values[inside]
    edges = np.concatenate([[-1], at, [len(run)]])
    for before, after in zip(edges[:-1].tolist(), edges[1:].tolist(), strict=True):
        if after - before - 1 >= SILENT_DAYS:
            run[before + 1 : after] = np.nan
    return run


def monday_of(day: int) -> int:
    """The first day of its week (ISO 8601: Monday). Day 0 is 1 January 1970, a Thursday."""
    return day - (day + 3) % 7


@dataclass(frozen=True)
class Week:
    """``total`` sums the days that are known; with a gap in it, it is "at least"."""

    monday: int
    days: Floats  # as far as the week has come; NaN: not known
    total: Figure
    monotony: Figure
    strain: Figure

    @property
    def known_days(self) -> int:
        return int(np.count_nonzero(~np.isnan(self.days)))

    @property
    def has_gap(self) -> bool:
        return self.known_days < len(self.days)


def weeks(run: Floats, first: int) -> list[Week]:
    """The weeks that ``run`` reaches into, its first value being that of day ``first``.

    A week that the run holds only in part has a total, and neither monotony nor strain.
    """
    end = first + len(run)
    return [
        _week(monday, run[max(monday - first, 0) : monday + 7 - first], began=monday < first)
        for monday in range(monday_of(first), end, 7)
    ]


def _week(monday: int, days: Floats, *, began: bool) -> Week:
    known = days[~np.isnan(days)]
    total = Figure(float(known.sum())) if len(known) else Figure(why=Why.NOTHING)
    if len(days) == 7:
        return Week(monday, days, total, monotony(days), strain(days))
    part = Figure(why=Why.BEGAN if began else Why.NOT_OVER)
    return Week(monday, days, total, part, part)
