"""Per cent of a max by reps, as printed, and the grid by reps and RPE that is derived from it."""

import numpy as np
from numpy.typing import ArrayLike

from programming.load.effort import reserve
from programming.load.equations import MOST_REPS, Floats

# Reps to failure -> per cent of 1RM: the table of Essentials of Strength Training and Conditioning
# (Human Kinetics). Past ten the prints disagree (11 reps: 70 or 73), so it ends there.
PERCENT_BY_REPS = {1: 100, 2: 95, 3: 93, 4: 90, 5: 87, 6: 85, 7: 83, 8: 80, 9: 77, 10: 75}
DERIVED = "derived: the table of per cent by reps, read at reps done + reps in reserve"

_REPS = np.array(list(PERCENT_BY_REPS), dtype=np.float64)
_PERCENT = np.array(list(PERCENT_BY_REPS.values()), dtype=np.float64)


def percent_of_max(reps: ArrayLike) -> Floats:
    """Per cent of 1RM for reps to failure, linear between whole reps; NaN outside 1 to 10."""
    r = np.asarray(reps, dtype=np.float64)
    return np.where((r >= 1) & (r <= MOST_REPS), np.interp(r, _REPS, _PERCENT), np.nan)


def percent(reps: ArrayLike, rpe: ArrayLike) -> Floats:
    """Per cent of 1RM at which ``reps`` feel like ``rpe``. Derived, not published (see DERIVED): no
    peer-reviewed grid with numbers is known to us. An uncertain reserve counts by its middle."""
    left = reserve(rpe)
    return percent_of_max(np.asarray(reps, dtype=np.float64) + (left.low + left.high) / 2)


def percent_at_reserve(reps: ArrayLike, in_reserve: ArrayLike) -> Floats:
    """The same from reps in reserve."""
    r, left = np.asarray(reps, dtype=np.float64), np.asarray(in_reserve, dtype=np.float64)
    return percent_of_max(r + left)
