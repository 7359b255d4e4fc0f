"""The rule's numbers, worked by hand. Sizes of steps are common practice, no source."""

from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coachdesk.common.units import shown
from programming.plans.notation import Dose, read, written
from programming.plans.progression import Rule, at_week, rule_label


def numbers(rule: Rule, kind: str, first: str, weeks: range, unit: str = "kg") -> list[str]:
    values = [at_week(rule, kind, Decimal(first), week) for week in weeks]
    return [shown(v, unit) if kind == "kg" else f"{v.normalize():f}" for v in values]


@pytest.mark.parametrize(
    ("rule", "kind", "first", "expected"),
    [
        (Rule(1, Decimal("2.5")), "kg", "100", ["100", "102.5", "105", "107.5", "110"]),
        (Rule(1, Decimal(2), share=True), "kg", "100", ["100", "102", "104", "106", "108"]),
        (Rule(1, Decimal(2)), "technical", "80", ["80", "82", "84", "86", "88"]),
        (Rule(1, Decimal("-1")), "rir", "3", ["3", "2", "1", "0", "0"]),
        (Rule(1, Decimal("0.5")), "rpe", "7", ["7", "7.5", "8", "8.5", "9"]),
        # Week 4 is 85% of week 3, and takes no step: 105 x 0.85 = 89.25, then 107.5.
        (
            Rule(1, Decimal("2.5"), deload_every=4),
            "kg",
            "100",
            ["100", "102.5", "105", "89.25", "107.5"],
        ),
        (Rule(1, Decimal(1), deload_every=4), "rpe", "7", ["7", "8", "9", "7", "10"]),
    ],
)
def test_week_by_week(rule: Rule, kind: str, first: str, expected: list[str]) -> None:
    assert numbers(rule, kind, first, range(1, 6)) == expected


def test_pounds_step_in_pounds() -> None:
    first = at_week(Rule(1, Decimal(5), unit="lb"), "kg", read("1x1 225lb").target, 1)
    values = [at_week(Rule(1, Decimal(5), unit="lb"), "kg", first, week) for week in (2, 3)]
    assert [shown(value, "lb") for value in values] == ["230", "235"]


def test_the_rule_can_be_read() -> None:
    rule = Rule(1, Decimal("2.5"), deload_every=4)
    assert rule_label(rule, "kg") == "+2.5 kg a week, every 4th week at 85%"
    assert rule_label(Rule(1, Decimal(-1)), "rir") == "−1 in reserve a week"
    assert rule_label(Rule(2, Decimal(2), share=True), "kg") == "+2% of week 2 a week"


@given(
    st.sampled_from(["kg", "technical", "best", "rpe", "rir"]),
    st.integers(1, 100).map(Decimal),
    st.integers(-300, 300).map(lambda n: Decimal(n) / 100),
    st.integers(1, 12),
    st.sampled_from(["kg", "lb"]),
    st.none() | st.integers(2, 6),
)
def test_every_number_can_be_written_in_a_cell(kind, first, amount, week, unit, every) -> None:
    if kind in {"rpe", "rir"}:
        first = min(first, Decimal(10))
    value = at_week(Rule(1, amount, unit=unit, deload_every=every), kind, first, week)
    typed = unit if kind == "kg" else "kg"
    if week > 1:
        dose = Dose(3, 5, kind, value, typed)
        assert read(written(dose), typed) == dose
