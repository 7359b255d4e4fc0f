"""Weeks, Monday to Sunday, from a run of days."""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from programming.load.calendar import monday_of
from programming.load.figures import Figure, Why
from programming.load.session_rpe import monotony, strain

Floats = npt.NDArray[np.float64]


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
