"""What goes on the bar: against brute force over every way to load it, and worked by hand."""

from dataclasses import dataclass
from decimal import Decimal
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from coachdesk.common.units import to_kg
from programming.plans.plates import Plates, loadable, nearest
from programming.plans.resolving import Asked, Maxes, resolve

KG_PLATES = Plates.usual("kg")


@dataclass(frozen=True)
class A:
    """A max, exactly known."""

    kg: Decimal

    @property
    def low_kg(self) -> Decimal:
        return self.kg

    high_kg = low_kg


TWO = Maxes(technical=A(Decimal(155)), best=A(Decimal(170)))


def by_hand(plates: Plates) -> set[Decimal]:
    """Every total, by trying every number of pairs of every plate."""
    counts = product(*(range(n + 1) for _, n in plates.pairs))
    return {
        plates.bar
        + 2 * sum((w * n for (w, _), n in zip(plates.pairs, used, strict=True)), Decimal(0))
        for used in counts
    }


plate_sets = st.builds(
    Plates,
    unit=st.sampled_from(["kg", "lb"]),
    bar=st.sampled_from([Decimal(b) for b in ("15", "20", "45", "7.5")]),
    pairs=st.lists(
        st.tuples(
            st.sampled_from([Decimal(w) for w in ("25", "20", "10", "5", "2.5", "1.25", "0.5")]),
            st.integers(0, 3),
        ),
        max_size=4,
        unique_by=lambda pair: pair[0],
    ).map(tuple),
)
loads = st.integers(1, 400_000).map(lambda grams: Decimal(grams) / 1000)


@given(plate_sets)
def test_every_loadable_weight_is_found_and_adds_up(plates: Plates) -> None:
    found = loadable(plates)
    assert {one.total for one in found} == by_hand(plates)
    at_hand = dict(plates.pairs)
    for one in found:
        assert plates.bar + 2 * sum(one.side, Decimal(0)) == one.total
        assert all(one.side.count(weight) <= at_hand[weight] for weight in one.side)
        assert list(one.side) == sorted(one.side, reverse=True)


@given(plate_sets, loads, st.none() | loads)
def test_the_nearest_is_loadable_and_never_above_the_cap(
    plates: Plates, wanted: Decimal, cap: Decimal | None
) -> None:
    allowed = {to_kg(total, plates.unit) for total in by_hand(plates)}
    allowed = {kg for kg in allowed if cap is None or kg <= cap}
    got = nearest(wanted, plates, cap)
    if not allowed:
        assert got is None
    else:
        assert got is not None
        assert got.kg == min(allowed, key=lambda kg: (abs(kg - wanted), kg))


@settings(max_examples=200)
@given(
    plates=plate_sets,
    kind=st.sampled_from(["kg", "technical", "best", "rpe", "rir", ""]),
    target=st.integers(1, 150).map(Decimal),
    reps=st.integers(1, 12),
    cap=st.none() | st.integers(1, 100).map(Decimal),
    technical=st.none() | loads.map(A),
    best=st.none() | loads.map(A),
)
def test_a_load_is_loadable_capped_or_says_why_not(
    plates, kind, target, reps, cap, technical, best
) -> None:
    got = resolve(Asked(kind, target, reps, cap), Maxes(technical, best), plates)
    assert got.how
    if got.kg is None:
        return
    if cap is not None:
        assert got.kg <= to_kg(technical.kg * cap / 100, "kg")
    if got.plates is None:
        assert got.kg < plates.bar_kg
    else:
        assert got.plates.total in by_hand(plates)


def test_a_percentage_follows_the_current_max_and_is_rounded_to_the_plates() -> None:
    got = resolve(Asked("technical", Decimal(90), 3), TWO, KG_PLATES)
    assert (got.exact_kg, got.kg) == (Decimal("139.500"), Decimal("140.000"))
    assert got.plates is not None
    assert got.plates.side == (Decimal(25), Decimal(25), Decimal(10))
    assert (
        got.how == "90% of the technical max, 155\u2009kg, is 139.5\u2009kg, loads to 140\u2009kg"
    )


def test_best_and_technical_max_are_not_mixed() -> None:
    assert resolve(Asked("best", Decimal(50), 5), TWO, KG_PLATES).exact_kg == Decimal(85)
    only_best = Maxes(best=A(Decimal(170)))
    got = resolve(Asked("technical", Decimal(50), 5), only_best, KG_PLATES)
    assert got.kg is None
    assert got.how == "no technical max yet: lift one to standard first"


def test_the_nearest_plate_above_the_cap_is_not_taken() -> None:
    # 95% of 155 is 147.25: 147.5 is nearer than 145, and above it.
    got = resolve(Asked("kg", Decimal(150), 3, Decimal(95)), TWO, KG_PLATES)
    assert (got.kg, got.capped) == (Decimal("145.000"), True)


def test_a_cap_without_a_max_gives_no_load() -> None:
    got = resolve(Asked("kg", Decimal(150), 3, Decimal(95)), Maxes(), KG_PLATES)
    assert got.kg is None
    assert "no technical max yet" in got.how


# Derived grid, checked by hand against the printed table of per cent by reps (see
# programming/load/percent.py): 5 reps at RPE 8 is 7 reps to failure, 83%.
@pytest.mark.parametrize(("kind", "target"), [("rpe", 8), ("rir", 2)])
def test_effort_suggests_a_load_and_says_it_is_derived(kind: str, target: int) -> None:
    got = resolve(Asked(kind, Decimal(target), 5), TWO, KG_PLATES)
    assert got.suggested
    assert got.exact_kg == Decimal("128.650")  # 0.83 x 155
    assert "(derived)" in got.how


def test_effort_without_a_max_or_beyond_the_table_suggests_nothing() -> None:
    assert resolve(Asked("rpe", Decimal(8), 5), Maxes(), KG_PLATES).kg is None
    got = resolve(Asked("rpe", Decimal(7), 10), TWO, KG_PLATES)
    assert got.kg is None
    assert "outside the table" in got.how


def test_pounds_are_rounded_on_pound_plates() -> None:
    got = resolve(Asked("technical", Decimal(80), 5), TWO, Plates.usual("lb"), "lb")
    assert got.plates is not None  # 124 kg is 273.4 lb
    assert got.plates.total == Decimal(275)
    assert got.plates.side == (Decimal(45), Decimal(45), Decimal(25))


def test_lighter_than_the_bar_is_left_as_asked() -> None:
    got = resolve(Asked("kg", Decimal(12), 10), Maxes(), KG_PLATES)
    assert (got.kg, got.plates) == (Decimal(12), None)
    assert "lighter than the 20\u2009kg bar" in got.how
