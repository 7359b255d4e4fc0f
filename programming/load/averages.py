"""Exponentially weighted averages, and this week against recent weeks.

E(t) = lambda x L(t) + (1 - lambda) x E(t - 1), lambda = 2 / (N + 1); the first day starts it.
Williams S, et al. Better way to determine the acute:chronic workload ratio? Br J Sports Med
2017;51(3):209-210. Rolling, coupled: mean of the last 7 days / mean of the last 28, those 7
included; uncoupled: mean of the last 7 / mean of the 21 before them.

The comparison describes change and does not predict injury: with the recent weeks replaced by a
constant it did as well (Impellizzeri FM, et al. Sports Med 2021;51(3):581-592).
"""

from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from programming.load.figures import Figure, Why

Floats = npt.NDArray[np.float64]

WEEK = 7
MONTH = 28


def weight(span: int) -> float:
    """Lambda of an average over ``span`` days."""
    return 2 / (span + 1)


def ewma(loads: Floats, span: int) -> Floats:
    """The average at the end of each day; NaN on a day that is not known.

    Missing is not rest: after a gap the average starts again with the first known day.
    """
    part = weight(span)
    averages = np.full(len(loads), np.nan)
    before = np.nan
    for day, load in enumerate(loads.tolist()):
        before = load if before != before else part * load + (1 - part) * before
        averages[day] = before
    return averages


def known_run(loads: Floats) -> int:
    """How many days up to the last are known without a gap."""
    gaps = np.flatnonzero(np.isnan(loads))
    return len(loads) - 1 - int(gaps[-1]) if len(gaps) else len(loads)


@dataclass(frozen=True)
class Comparison:
    """This week against recent weeks, as of the last day of ``loads``."""

    weighted: Figure  # 7-day average / 28-day average, both exponentially weighted
    coupled: Figure
    uncoupled: Figure


def compare(loads: Floats) -> Comparison:
    """``loads``: a value for each day up to the one asked about; NaN where it is not known."""
    run = known_run(loads)
    if run < MONTH:
        none = Figure(why=Why.UNDER_28 if len(loads) else Why.NOTHING)
        return Comparison(none, none, none)
    recent = loads[len(loads) - run :]
    week = float(recent[-WEEK:].mean())
    return Comparison(
        weighted=_ratio(float(ewma(recent, WEEK)[-1]), float(ewma(recent, MONTH)[-1])),
        coupled=_ratio(week, float(recent[-MONTH:].mean())),
        uncoupled=_ratio(week, float(recent[-MONTH:-WEEK].mean())),
    )


def _ratio(now: float, before: float) -> Figure:
    return Figure(now / before) if before > 0 else Figure(why=Why.NO_RECENT)
