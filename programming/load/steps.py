"""A value that holds from the day it was set until the next one: a max over time."""

import numpy as np
import numpy.typing as npt

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

# Day numbers lie well within; series and day then make one number that sorts like the pair.
DAYS = 1 << 20


def in_force(series: Ints, from_day: Ints, value: Floats, of: Ints, on: Ints) -> Floats:
    """For each query (``of`` a series, ``on`` a day) the value in force: that of the last record
    of the series on or before the day; NaN where there is none yet.

    ``series``, ``from_day`` and ``value`` describe the records, sorted by series and day; of two
    on the same day the later in the list holds.
    """
    if not len(series):
        return np.full(len(of), np.nan)
    found = np.searchsorted(series * DAYS + from_day, of * DAYS + on, side="right") - 1
    at = np.maximum(found, 0)
    held: Floats = np.where((found >= 0) & (series[at] == of), value[at], np.nan)
    return held
