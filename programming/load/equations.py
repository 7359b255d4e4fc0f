"""Published equations from reps to failure to a one-repetition maximum (1RM).

Each gives the load that could be lifted once, from the load ``w`` of a set taken to failure and its
reps ``r``. The constants are checked in tests/published/test_maxes.py.
"""

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]

# Linear equations should not be used above ten reps: Reynolds, Gordon and Robergs, J Strength Cond
# Res 2006;20(3):584-592. Above, they part: Brzycki's goes to infinity at 37.
MOST_REPS = 10


@dataclass(frozen=True)
class Equation:
    """``reps`` are those it was built for, from memory; we never go above ten with any of them."""

    name: str
    written: str
    reps: tuple[int, int]
    source: str
    per_load: Callable[[Floats], Floats]  # 1RM / w, from r


EPLEY = Equation(
    "Epley",
    "w (1 + r / 30)",
    (1, 10),
    "Epley B. Poundage chart. Boyd Epley Workout. Lincoln NE: Body Enterprises; 1985",
    lambda r: 1 + r / 30,
)
BRZYCKI = Equation(
    "Brzycki",
    "36 w / (37 - r)",
    (1, 10),
    "Brzycki M. J Phys Educ Recreat Dance 1993;64(1):88-90",
    lambda r: 36 / (37 - r),
)
LOMBARDI = Equation(
    "Lombardi",
    "w r^0.10",
    (1, 10),
    "Lombardi VP. Beginning Weight Training. Dubuque: WC Brown; 1989",
    lambda r: r**0.10,
)
MAYHEW = Equation(
    "Mayhew",
    "100 w / (52.2 + 41.9 e^(-0.055 r))",
    (2, 15),
    "Mayhew JL, Ball TE, Arnold MD, Bowen JC. J Appl Sport Sci Res 1992;6(4):200-206",
    lambda r: 100 / (52.2 + 41.9 * np.exp(-0.055 * r)),
)
O_CONNER = Equation(
    "O'Conner",
    "w (1 + 0.025 r)",
    (2, 10),
    "O'Conner B, Simmons J, O'Shea P. Weight Training Today. St Paul: West; 1989",
    lambda r: 1 + 0.025 * r,
)
WATHAN = Equation(
    "Wathan",
    "100 w / (48.8 + 53.8 e^(-0.075 r))",
    (2, 10),
    "Wathan D. Load assignment. In: Baechle TR (ed). Essentials of Strength Training and "
    "Conditioning. Human Kinetics; 1994:435-446",
    lambda r: 100 / (48.8 + 53.8 * np.exp(-0.075 * r)),
)
LANDER = Equation(
    "Lander",
    "100 w / (101.3 - 2.67123 r)",
    (2, 10),
    "Lander J. Maximum based on reps. NSCA J 1985;6(6):60-61",
    lambda r: 100 / (101.3 - 2.67123 * r),
)

EQUATIONS = (EPLEY, BRZYCKI, LOMBARDI, MAYHEW, O_CONNER, WATHAN, LANDER)
BY_NAME = {equation.name: equation for equation in EQUATIONS}


def per_load(equation: Equation, reps: ArrayLike) -> Floats:
    """1RM as a multiple of the load, for reps to failure (array, fractions allowed).

    One rep to failure is the 1RM itself, whatever the equation says there: five of the seven would
    call a lifted single an underestimate of itself. Between one and two reps it is the straight
    line from that to the equation. NaN below one rep and above ten.
    """
    r = np.asarray(reps, dtype=np.float64)
    inside = np.clip(r, 2, MOST_REPS)
    value = equation.per_load(inside)
    value = np.where(r < 2, 1 + (r - 1) * (value - 1), value)
    return np.where((r >= 1) & (r <= MOST_REPS), value, np.nan)


def one_rep_max(equation: Equation, load: ArrayLike, reps: ArrayLike) -> Floats:
    """1RM in the unit of ``load``; see `per_load` for one rep and for what has no estimate."""
    return np.asarray(load, dtype=np.float64) * per_load(equation, reps)
