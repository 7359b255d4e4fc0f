"""From the days that were logged to a run of days without holes."""

import numpy as np
import numpy.typing as npt

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
