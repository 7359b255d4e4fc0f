"""The rule that proposes an outcome: our own, without a source, so each line of it is held here."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviews.replies.models import Result
from reviews.replies.outcome_proposals import Reps, frozen_calls, proposed, reps

HIPS, LOCKOUT = 7, 8


@pytest.mark.parametrize(
    ("before", "after", "noted", "result", "why"),
    [
        ((2, 3), (0, 0), False, "cannot-tell", "No rep is judged yet."),
        ((2, 3), (0, 3), False, "gone", "None of 3 judged reps shows it."),
        ((1, 3), (0, 1), False, "gone", "The one judged rep does not show it."),
        ((0, 0), (0, 1), False, "cannot-tell", "last time it was noted, and no rep call named it"),
        ((0, 3), (0, 3), False, "cannot-tell", "last time it was noted, and no rep call named it"),
        ((2, 3), (0, 3), True, "cannot-tell", "A note names it, and no rep call does"),
        ((0, 3), (2, 3), True, "cannot-tell", "no rep call named it"),
        ((0, 0), (2, 3), True, "cannot-tell", "no rep call named it"),
        ((2, 3), (1, 3), True, "better", "1 of 3 judged reps shows it; last time 2 of 3"),
        ((2, 3), (4, 6), False, "same", "4 of 6 judged reps show it; last time 2 of 3"),
        ((1, 3), (2, 5), False, "worse", "2 of 5 judged reps show it; last time 1 of 3"),
        ((1, 1), (1, 1), False, "same", "1 of 1 judged rep shows it; last time 1 of 1"),
    ],
)
def test_the_rule(before, after, noted: bool, result: str, why: str) -> None:
    proposal = proposed(Reps(*before), Reps(*after), noted=noted)
    assert proposal.result == result
    assert why in proposal.why


def test_can_t_tell_is_neither_a_fault_nor_a_pass() -> None:
    calls: list[Any] = [
        ("standard", []),
        ("not-standard", [LOCKOUT]),
        ("not-standard", [HIPS, LOCKOUT]),
        ("cannot-tell", []),
        ("", []),
    ]
    assert reps(calls, HIPS) == Reps(showing=1, judged=3)
    assert reps([], HIPS) == Reps(showing=0, judged=0)


def test_a_missed_rep_that_names_no_fault_says_nothing_of_any() -> None:
    assert reps([("not-standard", []), ("standard", [])], HIPS) == Reps(showing=0, judged=1)


def test_before_are_the_reps_of_the_clip_that_the_point_lies_on() -> None:
    light = {"id": "light", "calls": [{"call": "standard", "fault_ids": []}]}
    heavy = {"id": "heavy", "calls": [{"call": "not-standard", "fault_ids": [HIPS]}]}
    assert frozen_calls({"clips": [light, heavy]}, "heavy") == [("not-standard", [HIPS])]


COUNTS = st.integers(0, 50).flatmap(lambda n: st.tuples(st.integers(0, n), st.just(n)))


@given(COUNTS, COUNTS, st.booleans())
def test_swapping_before_and_after_swaps_better_and_worse(before, after, noted) -> None:
    there, back = (
        proposed(Reps(*one), Reps(*other), noted=noted).result
        for one, other in ((before, after), (after, before))
    )
    mirror = {Result.BETTER: Result.WORSE, Result.WORSE: Result.BETTER, Result.SAME: Result.SAME}
    if before[0] and after[0]:
        assert back == mirror[there]
