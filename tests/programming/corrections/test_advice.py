"""Facts of the trade as rules: common practice, no source."""

from decimal import Decimal

from hypothesis import given
from hypothesis import strategies as st

from programming.corrections.advice import about_goal
from programming.logs.scatter import heavy_only

LOADS = st.decimals(20, 400, places=1)


def test_what_shows_above_every_clean_set_is_a_matter_of_load() -> None:
    sets = [(Decimal(120), False), (Decimal(150), True), (Decimal(160), True)]
    assert heavy_only(sets) == Decimal(150)


def test_what_shows_at_a_load_that_was_clean_as_well_is_not() -> None:
    assert heavy_only([(Decimal(150), False), (Decimal(150), True)]) is None


@given(st.lists(LOADS, min_size=1))
def test_one_side_alone_says_nothing(loads: list[Decimal]) -> None:
    assert heavy_only([(load, True) for load in loads]) is None
    assert heavy_only([(load, False) for load in loads]) is None


@given(st.lists(st.tuples(LOADS, st.booleans())))
def test_it_is_the_lightest_that_shows_and_above_all_that_do_not(sets) -> None:
    found = heavy_only(sets)
    if found is not None:
        assert (found, True) in sets
        assert all(load < found for load, shows in sets if not shows)


def test_the_goal_decides_which_variant() -> None:
    assert "more efficient variant is preferred" in about_goal("total")
    assert "free" in about_goal("muscle")
    assert about_goal("strength") == ""
