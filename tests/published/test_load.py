"""Training load against what was published, and against other people's arithmetic."""

import numpy as np
import pandas
import pytest

from programming.load.averages import MONTH, WEEK, compare, ewma, weight
from programming.load.days import HARD_RPE, Days, Sessions, Sets, summarise
from programming.load.session_rpe import monotony, monotony_of, session_loads, strain

NONE = np.nan
# Mon to Sun, and seven days' monotony and strain with n - 1. Not published: own arithmetic.
# No complete published week was found.
WEEKS = [
    ([300, 0, 450, 0, 420, 240, 0], 1410, 1.0020, 1412.77),
    ([300] * 6 + [0], 1800, 2.2678, 4082.02),
]
# 21 days at 30, then 7 at 50: rolling 1.43 and exponentially weighted 1.25 on day 28, as Williams
# et al., Br J Sports Med 2017;51(3):209-210 print for the first of their three athletes. (That
# theirs is such a step is inferred: their daily table could not be read.) The open R package ACWR
# 0.1.0 tests itself on the same vector.
STEP = np.array([30.0] * 21 + [50.0] * 7)
# pandas' own documentation of ewm: adjust=False is the recursion that we use.
LOADS = [100.0, 200, 0, 300, 400, 0, 500]


def one_day(*sets: tuple[float, float, float, float], rpe: float = NONE, minutes: float = NONE):
    """`Days` of one day: a set is reps, kg, max, RPE."""
    reps, kg, max_kg, effort = np.array(sets, float).reshape(-1, 4).T
    day = np.zeros(len(reps), np.int64)
    session = Sessions(np.zeros(1, np.int64), np.array([rpe]), np.array([minutes]))
    return summarise(Sets(day, day + 1, reps, kg, max_kg, effort), session)


def whole(days: Days, name: str) -> float:
    """Of the row that sums over all families."""
    return float(getattr(days, name)[days.family == 0][0])


def test_session_load_is_rpe_times_minutes() -> None:
    # Foster C, et al. J Strength Cond Res 2001;15(1):109-115.
    assert session_loads(np.array([7.5]), np.array([60.0])).tolist() == [450]
    assert whole(one_day(rpe=7.5, minutes=60), "session_load") == 450


@pytest.mark.parametrize(("loads", "weekly", "sameness", "strained"), WEEKS)
def test_a_week(loads: list[float], weekly: float, sameness: float, strained: float) -> None:
    week = np.array(loads, float)
    assert week.sum() == weekly
    assert monotony(week).value == pytest.approx(sameness, rel=1e-3)
    assert strain(week).value == pytest.approx(strained, rel=1e-3)
    assert monotony(week).value == pytest.approx(week.mean() / pandas.Series(loads).std())


def test_monotony_on_volume_load() -> None:
    # BMJ Military Health 2022;168(4):314-319, Table 1: mean 790 kg, SD 897 kg, printed 0.88.
    assert monotony_of(790, 897).value == pytest.approx(0.88, abs=0.005)


def test_volume_load_of_equal_sets() -> None:
    # The same table: 3 x 8 x 65 kg = 1560 kg. Relative: 3 x 8 x 0.65 = 15.6 (from memory, after
    # the variants in Scott BR, et al. Sports Med 2016;46(5):687-698).
    day = one_day(*[(8, 65, 100, NONE)] * 3)
    assert whole(day, "volume_load") == 1560
    assert whole(day, "relative_volume_load") == pytest.approx(15.6, abs=1e-9)


def test_volume_load_and_intensity_of_mixed_sets() -> None:
    # The same table: 10 x 55 + 8 x 65 + 6 x 75 = 1520 kg; mean load 63.33 kg of a 110 kg max. It
    # prints 57%, having rounded to 63 kg first; unrounded it is 57.58%.
    day = one_day((10, 55, 110, NONE), (8, 65, 110, NONE), (6, 75, 110, NONE))
    assert whole(day, "volume_load") == 1520
    assert whole(day, "volume_load") / whole(day, "reps") == pytest.approx(63.33, abs=0.005)
    intensity = whole(day, "relative_volume_load") / whole(day, "reps_with_max")
    assert intensity == pytest.approx(0.5758, abs=1e-4)
    assert intensity == pytest.approx(0.57, abs=0.01)


def test_hard_sets_have_at_most_four_reps_left() -> None:
    # The limit varies and is stated (from memory: often 4 or 5 reps in reserve). RPE 5 to 6 means
    # 4 to 6 left, 6.5 at most 4: Zourdos MC, et al. J Strength Cond Res 2016;30(1):267-275, the
    # half points from memory.
    day = one_day((5, 100, NONE, 6), (5, 100, NONE, 6.5), (5, 100, NONE, 9), (5, 100, NONE, NONE))
    assert HARD_RPE == 6.5
    assert whole(day, "hard_sets") == 2
    assert whole(day, "sets_with_effort") == 3


def test_lambda() -> None:
    # Williams et al. 2017: lambda = 2 / (N + 1).
    assert weight(7) == 0.25
    assert weight(28) == pytest.approx(2 / 29, rel=1e-15)


def test_the_step_of_the_published_athlete() -> None:
    assert ewma(STEP, WEEK)[-1] == pytest.approx(50 - 20 * 0.75**7, abs=1e-9)
    assert ewma(STEP, MONTH)[-1] == pytest.approx(50 - 20 * (27 / 29) ** 7, abs=1e-9)
    compared = compare(STEP)
    assert compared.weighted.value == pytest.approx(1.249745541, abs=1e-8)
    assert round(compared.weighted.value or 0, 2) == 1.25  # as printed
    assert compared.coupled.value == pytest.approx(50 / 35, abs=1e-9)
    assert round(compared.coupled.value or 0, 2) == 1.43  # as printed
    assert compared.uncoupled.value == pytest.approx(5 / 3, abs=1e-9)


@pytest.mark.parametrize(
    ("span", "expected"),
    [
        (7, [100, 125, 93.75, 145.3125, 208.984375, 156.738281, 242.553711]),
        (28, [149.873860]),
    ],
)
def test_averages_are_those_of_pandas(span: int, expected: list[float]) -> None:
    ours = ewma(np.array(LOADS), span)
    assert ours[-len(expected) :].tolist() == pytest.approx(expected, abs=1e-6)
    pandas_own = pandas.Series(LOADS).ewm(span=span, adjust=False).mean()
    assert ours.tolist() == pytest.approx(pandas_own.tolist(), rel=1e-12)
    # The same recursion as scipy's filter, started so that the first average is the first load.
    from scipy.signal import lfilter  # a second and a half to import, in every process of a run

    part = weight(span)
    filtered, _ = lfilter([part], [1, part - 1], LOADS, zi=[(1 - part) * LOADS[0]])
    assert ours.tolist() == pytest.approx(filtered.tolist(), rel=1e-12)


def test_pandas_default_is_not_what_we_report() -> None:
    # adjust=True divides by the sum of the weights and differs early on: 1.210546480 on the step.
    frame = pandas.Series(STEP)
    adjusted = frame.ewm(span=7).mean().iloc[-1] / frame.ewm(span=28).mean().iloc[-1]
    assert adjusted == pytest.approx(1.210546480, abs=1e-8)
    assert compare(STEP).weighted.value != pytest.approx(adjusted, abs=1e-3)
