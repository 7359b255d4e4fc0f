"""What must hold for any load, whatever the numbers."""

from math import sqrt

import numpy as np
import pandas
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from programming.load.averages import compare, ewma
from programming.load.days import Days, Sessions, Sets, summarise
from programming.load.figures import Figure, Why
from programming.load.session_rpe import monotony, strain
from programming.load.steps import in_force
from programming.load.weeks import SILENT_DAYS, monday_of, run_of_days, weeks

LOAD = st.floats(1, 5000)
UNKNOWN = np.nan


@settings(deadline=None)  # another process may hold the machine
@given(st.integers(1, 6), LOAD, st.randoms(use_true_random=False))
def test_k_equal_days_have_a_closed_form(k: int, load: float, shuffler) -> None:
    """Own algebra: sqrt(k / (7 - k)) with the population's deviation, x sqrt(6 / 7) with the
    sample's; whatever the load, and whichever days they are."""
    days = [load] * k + [0.0] * (7 - k)
    shuffler.shuffle(days)
    expected = sqrt(k / (7 - k)) * sqrt(6 / 7)
    assert monotony(np.array(days)).value == pytest.approx(expected, rel=1e-9)
    assert strain(np.array(days)).value == pytest.approx(expected * k * load, rel=1e-9)


@settings(deadline=None)  # another process may hold the machine
@given(st.one_of(st.just(0.0), LOAD))
def test_seven_equal_days_have_no_monotony(load: float) -> None:
    week = np.full(7, load)
    assert monotony(week) == strain(week) == Figure(why=Why.NO_VARIATION)


@settings(deadline=None)  # another process may hold the machine
@given(st.lists(LOAD, min_size=28, max_size=60))
def test_coupled_follows_from_uncoupled(loads: list[float]) -> None:
    """Own algebra: c = 4u / (u + 3), so it can never exceed 4."""
    compared = compare(np.array(loads))
    u, c = compared.uncoupled.value, compared.coupled.value
    assert u is not None
    assert c == pytest.approx(4 * u / (u + 3), rel=1e-9)
    assert c < 4


@pytest.mark.parametrize("days", [0, 1, 27])
def test_fewer_than_28_days_compare_with_nothing(days: int) -> None:
    why = Why.UNDER_28 if days else Why.NOTHING
    assert compare(np.ones(days)).weighted == Figure(why=why)


def test_four_weeks_of_rest_compare_with_nothing() -> None:
    assert compare(np.zeros(28)).coupled == Figure(why=Why.NO_RECENT)
    week_after_rest = np.array([0.0] * 21 + [100.0] * 7)
    assert compare(week_after_rest).uncoupled == Figure(why=Why.NO_RECENT)
    assert compare(week_after_rest).coupled.value == 4


@settings(deadline=None)  # another process may hold the machine
@given(
    st.lists(st.one_of(LOAD, st.just(0.0), st.just(UNKNOWN)), max_size=80), st.sampled_from([7, 28])
)
def test_an_average_starts_again_after_a_gap(loads: list[float], span: int) -> None:
    """pandas on each stretch without a gap gives the same, and a gap stays one."""
    ours = ewma(np.array(loads, float), span)
    series = pandas.Series(loads, dtype=float)
    assert np.isnan(ours).tolist() == series.isna().tolist()
    for _, stretch in series.groupby(series.isna().cumsum()):
        known = stretch.dropna()
        expected = known.ewm(span=span, adjust=False).mean()
        assert ours[known.index] == pytest.approx(expected.to_numpy(), rel=1e-12)


def test_one_unknown_session_leaves_28_days_to_wait() -> None:
    loads = np.full(60, 100.0)
    loads[-28] = UNKNOWN
    assert compare(loads).weighted == Figure(why=Why.UNDER_28)
    loads[-28], loads[-29] = 100, UNKNOWN
    assert compare(loads).weighted.value == pytest.approx(1)


def test_rest_is_zero_and_silence_is_a_gap() -> None:
    last = 2 * SILENT_DAYS + 2
    run = run_of_days(np.array([SILENT_DAYS, 0]), np.array([50.0, 70.0]), 0, last)
    assert run[:8].tolist() == [70, 0, 0, 0, 0, 0, 0, 50]  # six days between: rest
    assert np.isnan(run[8:]).all()  # nine after it: nobody knows
    assert run_of_days(np.array([3]), np.array([50.0]), 0, 9)[4:].tolist() == [0] * 6


@settings(deadline=None)  # another process may hold the machine
@given(st.integers(-20000, 40000))
def test_weeks_begin_on_monday(day: int) -> None:
    monday = np.datetime64(monday_of(day), "D")
    assert 0 <= day - monday_of(day) < 7
    assert np.is_busday(monday, weekmask="Mon")


def test_a_week_that_is_known_in_part_has_a_total_and_no_monotony() -> None:
    monday = monday_of(20000)
    run = np.array([10.0, 0, 10, 0, 10, 0, 0, 10, UNKNOWN, 0, 0, 5])
    begun, gap = weeks(run[2:], monday + 2)
    assert (begun.total.value, begun.monotony.why) == (20, Why.BEGAN)
    assert (gap.total.value, gap.monotony.why, gap.has_gap) == (15, Why.NOT_OVER, True)
    full, _ = weeks(run, monday)
    assert (full.total.value, full.has_gap) == (30, False)
    assert full.strain.value == pytest.approx(30 * (30 / 7) / np.std(full.days, ddof=1))


def test_a_silent_week_has_nothing() -> None:
    (week,) = weeks(np.full(7, UNKNOWN), monday_of(20000))
    assert (week.total.why, week.monotony.why, week.known_days) == (Why.NOTHING, Why.GAP, 0)


def test_a_max_holds_from_its_day_until_the_next() -> None:
    records = np.array([[1, 10, 100], [1, 20, 110], [1, 20, 112], [3, 5, 60]], float).T
    series, day = records[:2].astype(np.int64)
    of, on = np.array([1, 1, 1, 1, 2, 3, 3, 0]), np.array([9, 10, 19, 20, 30, 4, 99, 50])
    held = in_force(series, day, records[2], of, on)
    np.testing.assert_equal(held, [UNKNOWN, 100, 100, 112, UNKNOWN, UNKNOWN, 60, UNKNOWN])


ONE_SET = st.tuples(
    st.integers(0, 3),  # day
    st.integers(1, 5),  # family
    st.integers(0, 200),  # reps
    st.one_of(st.just(UNKNOWN), st.integers(0, 500_000).map(lambda grams: grams / 1000)),
    st.one_of(st.just(UNKNOWN), st.integers(20_000, 500_000).map(lambda grams: grams / 1000)),
    st.one_of(st.just(UNKNOWN), st.integers(2, 20).map(lambda halves: halves / 2)),
)
ONE_SESSION = st.tuples(
    st.integers(0, 3),
    st.one_of(st.just(UNKNOWN), st.integers(0, 100).map(lambda tenths: tenths / 10)),
    st.one_of(st.just(UNKNOWN), st.integers(1, 600)),
)


def summed(sets: list[tuple[float, ...]], sessions: list[tuple[float, ...]]) -> Days:
    day, family, reps, kg, max_kg, rpe = np.array(sets, float).reshape(-1, 6).T
    on, effort, minutes = np.array(sessions, float).reshape(-1, 3).T
    return summarise(
        Sets(day.astype(np.int64), family.astype(np.int64), reps, kg, max_kg, rpe),
        Sessions(on.astype(np.int64), effort, minutes),
    )


def assert_same(one: Days, other: Days) -> None:
    for name, values in vars(one).items():
        np.testing.assert_array_equal(values, getattr(other, name), err_msg=name)


@settings(deadline=None)  # another process may hold the machine
@given(st.lists(ONE_SET, max_size=40), st.lists(ONE_SESSION, max_size=8), st.randoms())
def test_any_order_of_inserts_gives_the_same(sets, sessions, shuffler) -> None:
    before = summed(sets, sessions)
    shuffler.shuffle(sets)
    shuffler.shuffle(sessions)
    assert_same(before, summed(sets, sessions))


@settings(deadline=None)  # another process may hold the machine
@given(st.lists(ONE_SET, max_size=40), st.lists(ONE_SESSION, max_size=8), st.integers(0, 3))
def test_a_day_by_itself_is_the_day_among_all(sets, sessions, day: int) -> None:
    """To the last bit: this is why incremental and full can be compared for equality."""
    among = summed(sets, sessions)
    alone = summed([s for s in sets if s[0] == day], [s for s in sessions if s[0] == day])
    assert_same(among.take(among.day == day), alone)


@settings(deadline=None)  # another process may hold the machine
@given(st.lists(ONE_SET, min_size=1, max_size=40), st.lists(ONE_SESSION, max_size=8))
def test_days_are_those_of_pandas(sets, sessions) -> None:
    ours = summed(sets, sessions)
    frame = pandas.DataFrame(sets, columns=["day", "family", "reps", "kg", "max", "rpe"])
    frame["volume"] = frame.reps * frame.kg
    frame["relative"] = frame.volume / frame["max"]
    frame["hard"] = frame.rpe >= 6.5
    rows = frame.groupby(["day", "family"]).agg(
        sets=("reps", "size"),
        reps=("reps", "sum"),
        hard_sets=("hard", "sum"),
        sets_loaded=("kg", "count"),
        sets_with_effort=("rpe", "count"),
        sets_with_max=("relative", "count"),
    )
    for name in rows.columns:
        assert getattr(ours, name)[ours.family > 0].tolist() == rows[name].tolist()
    for name, column in [("volume_load", "volume"), ("relative_volume_load", "relative")]:
        sums = frame.groupby(["day", "family"])[column].sum(min_count=1)
        np.testing.assert_allclose(getattr(ours, name)[ours.family > 0], sums, atol=1e-6)
        sums = frame.groupby("day")[column].sum(min_count=1)
        whole = ours.take((ours.family == 0) & (ours.sets > 0))
        np.testing.assert_allclose(getattr(whole, name), sums, atol=1e-6)
