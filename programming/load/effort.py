"""How many reps were left: the repetitions-in-reserve reading of an RPE.

Zourdos MC et al., J Strength Cond Res 2016;30(1):267-275: 10 is a maximal effort, 9 leaves one rep,
and so on. Half points are not halves of a rep: 9.5 leaves none but the load could have been more,
8.5 leaves one or two. At 5 and 6 it is four to six. Below 5 nobody can count what is left (errors
of two reps and more: Hackett et al., J Strength Cond Res 2017;31(8):2162-2168), so there is none.
The half points and 5 to 6 are from memory of the published scale.
"""

from decimal import Decimal
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from programming.load.equations import Floats

LEAST_RPE = 5.0


def rpe_of(rpe: Decimal | None, reps_in_reserve: int | None) -> Decimal | None:
    """As an RPE: as it was given, or the reps in reserve counted down from ten."""
    if rpe is not None or reps_in_reserve is None:
        return rpe
    return max(10 - Decimal(reps_in_reserve), Decimal(1))


def effort_label(rpe: Decimal | None, reps_in_reserve: Decimal | int | None) -> str:
    """The effort in the words it was given in: "RPE 8.5", "2 in reserve", or ""."""
    if rpe is not None:
        return f"RPE {rpe.normalize():f}"
    if reps_in_reserve is None:
        return ""
    return f"{Decimal(reps_in_reserve).normalize():f} in reserve"


class Reserve(NamedTuple):
    """Reps in reserve, from ``low`` to ``high`` (arrays; NaN where there is no telling)."""

    low: Floats
    high: Floats
    could_add_load: np.ndarray  # bool: none left, but the bar could have been heavier


def reserve(rpe: ArrayLike) -> Reserve:
    """Reps in reserve as an interval, from an RPE of 1 to 10 in half points; NaN for unknown."""
    felt = np.round(np.asarray(rpe, dtype=np.float64) * 2) / 2
    left = 10 - felt
    low, high = np.floor(left), np.ceil(left)
    add = felt == 9.5
    high = np.where(add, 0, high)
    vague = (felt >= LEAST_RPE) & (felt <= 6)
    low, high = np.where(vague, 4, low), np.where(vague, 6, high)
    known = felt >= LEAST_RPE
    return Reserve(np.where(known, low, np.nan), np.where(known, high, np.nan), add)
