"""What a set says about the 1RM: a band, not a number."""

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from programming.load.effort import reserve
from programming.load.equations import EQUATIONS, MOST_REPS, WATHAN, Floats, per_load

# The middle of the band. Of the seven, Wathan's and Mayhew's came nearest to achieved lifts (LeSuer
# et al., J Strength Cond Res 1997;11(4):211-213, from memory), and Wathan's runs among the others.
MIDDLE = WATHAN

_R = np.arange(1, MOST_REPS + 1)
_TABLE = np.array([per_load(equation, _R) for equation in EQUATIONS])
_LEAST, _MOST = _TABLE.min(axis=0), _TABLE.max(axis=0)


class Band(NamedTuple):
    """1RM from ``low`` to ``high`` with ``middle`` in between, in the unit of the load. All NaN
    where the set says nothing. Where ``at_least`` is true, the effort is not known and the set only
    proves that much: the max may lie anywhere above."""

    low: Floats
    middle: Floats
    high: Floats
    at_least: np.ndarray


def band(load: ArrayLike, reps: ArrayLike, rpe: ArrayLike) -> Band:
    """The 1RM that sets of ``reps`` with ``load`` at ``rpe`` speak for (arrays of one length; RPE
    NaN where it was not told).

    Reps to failure are the reps done and those in reserve, an interval. The band runs from the
    least of the equations at its lower end to the greatest at its upper end, so it holds both kinds
    of doubt: how many were left, and which equation fits this person. It is no confidence interval.
    At RPE 9.5 it reaches on to what one more rep would have meant.

    Nothing comes from a set whose reps to failure could pass ten, whose RPE is below 5, or that has
    no load. One rep at RPE 10 is the 1RM itself.
    """
    w, r, felt = (np.asarray(x, dtype=np.float64) for x in (load, reps, rpe))
    left = reserve(felt)
    unknown = np.isnan(felt)
    low = r + np.where(unknown, 0, left.low)
    high = r + np.where(unknown, 0, left.high)
    counts = (w > 0) & (r >= 1) & (high <= MOST_REPS)
    up_to = np.minimum(high + left.could_add_load, MOST_REPS)
    at_low, at_high = _row(low, counts), _row(up_to, counts)
    weight = np.where(counts, w, np.nan)
    return Band(
        weight * _LEAST[at_low],
        weight * per_load(MIDDLE, (low + high) / 2),
        weight * _MOST[at_high],
        unknown & counts,
    )


def _row(reps: Floats, counts: np.ndarray) -> np.ndarray:
    return (np.where(counts, reps, 1) - 1).astype(np.intp)
