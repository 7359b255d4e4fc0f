"""Loads come back as they were typed, and read to a tenth in the other unit.

The pound is 0.45359237 kg by definition (international avoirdupois pound, 1959)."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coachdesk.common.units import as_typed, shown, to_kg


def written(value: Decimal) -> str:
    return f"{value.normalize():f}"


@given(st.integers(1, 4000).map(lambda quarters: Decimal(quarters) / 4))
def test_pounds_of_any_plates_come_back_as_typed(pounds: Decimal) -> None:
    kg = to_kg(pounds, "lb")
    assert as_typed(kg, "lb") == shown(kg, "lb") == written(pounds)


@given(st.integers(1, 20_000).map(lambda steps: Decimal(steps) / 20))
def test_kilograms_of_any_plates_come_back_as_typed(kg: Decimal) -> None:
    assert as_typed(kg, "kg") == shown(kg, "kg") == written(kg)


@pytest.mark.parametrize(
    ("typed", "unit", "reader", "words"),
    [
        ("290", "lb", "kg", "131.5"),  # 131.541787
        ("225", "lb", "kg", "102.1"),  # 102.058283
        ("132.25", "lb", "lb", "132.25"),
        ("62.375", "kg", "kg", "62.4"),
        ("102.5", "kg", "lb", "226"),  # 225.974
        ("61.25", "kg", "kg", "61.25"),
        ("61.25", "kg", "lb", "135"),  # 135.033
    ],
)
def test_in_the_other_unit_a_tenth_says_it(typed: str, unit: str, reader: str, words: str) -> None:
    assert shown(to_kg(Decimal(typed), unit), reader) == words


def test_what_was_typed_to_the_gram_is_kept() -> None:
    assert as_typed(to_kg(Decimal("62.375"), "kg"), "kg") == "62.375"
