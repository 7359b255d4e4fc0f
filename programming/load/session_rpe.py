"""Load by session RPE, and what a week of it says.

Session load: session RPE (0 to 10) x minutes, in arbitrary units (AU); a day is the sum of its
sessions; a rest day is 0. Monotony: mean daily load / standard deviation of the same seven days.
Strain: weekly load x monotony.

Foster C, et al. A new approach to monitoring exercise training. J Strength Cond Res
2001;15(1):109-115. Foster C. Monitoring training in athletes with reference to overtraining
syndrome. Med Sci Sports Exerc 1998;30(7):1164-1168. Neither says which standard deviation: ours
is the sample's (n - 1), what a spreadsheet's STDEV gives. The population's would make monotony and
strain of seven days 1.080123 times as high.
"""

import numpy as np
import numpy.typing as npt

from programming.load.figures import Figure, Why

Floats = npt.NDArray[np.float64]


# The scale a whole session is rated on, asked after it: CR-10 as modified by Foster's group. The
# words stand at 0 to 5, 7 and 10, the other numbers have none (J Sports Sci Med 2006;5:289 ff.,
# Table 1). They ask 30 minutes after the session, so that the last set does not colour the whole.
CR10: dict[int, str] = {
    0: "Rest",
    1: "Very, very easy",
    2: "Easy",
    3: "Moderate",
    4: "Somewhat hard",
    5: "Hard",
    6: "",
    7: "Very hard",
    8: "",
    9: "",
    10: "Maximal",
}


def session_loads(rpe: Floats, minutes: Floats) -> Floats:
    """RPE x minutes of each session in AU; NaN where either is unknown.

    RPE has at most one decimal: in tenths the sums are exact, so their order does not matter.
    """
    loads: Floats = np.rint(rpe * 10) * np.rint(minutes) / 10
    return loads


def monotony_of(mean: float, deviation: float) -> Figure:
    """Mean / standard deviation, both of the same days and in the same unit."""
    return Figure(mean / deviation) if deviation > 0 else Figure(why=Why.NO_VARIATION)


def monotony(loads: Floats) -> Figure:
    """Of the daily loads of one week (NaN: not known), with the sample standard deviation."""
    if np.isnan(loads).any():
        return Figure(why=Why.GAP)
    # Asked before dividing: the deviation of equal days is a rounding error, not always 0.
    if loads.min() == loads.max():
        return Figure(why=Why.NO_VARIATION)
    return monotony_of(float(loads.mean()), float(loads.std(ddof=1)))


def strain(loads: Floats) -> Figure:
    """Weekly load x monotony, in AU."""
    sameness = monotony(loads)
    if sameness.value is None:
        return sameness
    return Figure(float(loads.sum()) * sameness.value)
