"""Filmed sets over load: the drawing, and the rule of the trade read from it."""

from datetime import date
from decimal import Decimal

import pytest

from programming.logs.scatter import Filmed, heavy_only, scatter_of


def sets(clean: list[str], broken: list[str]) -> list[Filmed]:
    day = date(2026, 11, 2)
    good = [Filmed(day, Decimal(kg), 3, 3, True) for kg in clean]
    return good + [Filmed(day, Decimal(kg), 3, 1, False) for kg in broken]


@pytest.mark.parametrize(
    ("clean", "broken", "only"),
    [
        (["140", "150"], ["152.5", "160"], True),
        (["140", "150"], ["150"], False),
        (["140", "150"], ["120"], False),
        (["140"], [], False),
        ([], ["160"], False),
    ],
)
def test_a_fault_that_appears_only_on_heavy_sets(
    clean: list[str], broken: list[str], only: bool
) -> None:
    """It is answered by load and strength before more cues (common practice, no source)."""
    shows = [(one.load_kg, not one.clean) for one in sets(clean, broken)]
    assert (heavy_only(shows) is not None) is only


def test_heavier_is_further_right_and_equal_loads_stack() -> None:
    scatter = scatter_of(sets(["100", "140", "140"], ["150", "150", "120"]), "kg")
    assert scatter is not None
    assert [dot.x for dot in scatter.clean] == sorted(dot.x for dot in scatter.clean)
    first, second = scatter.clean[1:]
    assert first.x == second.x
    assert second.y < first.y < scatter.line
    assert all(scatter.line < dot.y < scatter.height for dot in scatter.broken)


@pytest.mark.parametrize(
    ("unit", "labels"),
    [("kg", ["100", "110", "120", "130", "140", "150"]), ("lb", ["200", "250", "300", "350"])],
)
def test_ticks_are_round_in_the_readers_unit(unit: str, labels: list[str]) -> None:
    """The pound is 0.45359237 kg by definition (1959): 100 kg are 220.5 lb, 147.5 kg 325.2 lb."""
    scatter = scatter_of(sets(["100"], ["147.5"]), unit)
    assert scatter is not None
    assert [tick.label for tick in scatter.ticks] == labels
    assert scatter.ticks[0].x <= scatter.clean[0].x < scatter.broken[0].x <= scatter.ticks[-1].x


def test_one_load_is_no_picture() -> None:
    assert scatter_of(sets(["100", "100"], []), "kg") is None
    assert scatter_of([], "kg") is None
