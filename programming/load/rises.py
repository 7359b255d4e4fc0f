"""A running max over time, as the steps by which it rises."""

from collections.abc import Iterable
from itertools import pairwise
from typing import NamedTuple

import numpy as np

from programming.load.equations import Floats

NOTHING = -1


class Step(NamedTuple):
    """From ``day`` on the max is that of the set at index ``best``; its band starts no lower than
    what the set at index ``floor`` proved. ``NOTHING``: as it stood before the first set."""

    day: int
    best: int
    floor: int


class Reached(NamedTuple):
    """Where the max and the lower end of its band stand before the first set."""

    middle: float
    low: float


START = Reached(-np.inf, -np.inf)


def rises(days: np.ndarray, middle: Floats, low: Floats, reached: Reached = START) -> list[Step]:
    """The days on which the running max of ``middle`` or of ``low`` rises above all before.

    ``days`` are ordinals in rising order, one entry a set; NaN says nothing. Equal sets change
    nothing, so the earliest is named; of equal sets on one day, the first.
    """
    found: list[Step] = []
    best, floor = NOTHING, NOTHING
    top, bottom = reached
    for day, indices in _by_day(days):
        before = (best, floor)
        for index in indices:
            if middle[index] > top:
                top, best = float(middle[index]), index
            if low[index] > bottom:
                bottom, floor = float(low[index]), index
        if (best, floor) != before:
            found.append(Step(day, best, floor))
    return found


def _by_day(days: np.ndarray) -> Iterable[tuple[int, range]]:
    firsts, starts = np.unique(days, return_index=True)
    for day, (start, end) in zip(firsts, pairwise([*starts.tolist(), len(days)]), strict=True):
        yield int(day), range(start, end)
