"""The best and the technical max of a movement, as of a day."""

from decimal import Decimal

import pytest

from programming.logs.models import MaxKind
from programming.logs.selectors.current_maxes import Max, current_max, max_steps
from programming.logs.services.refresh_maxes import rebuild_maxes
from programming.movements.models import Movement
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, judged, lifted, squat

pytestmark = pytest.mark.django_db
BEST, TECHNICAL = MaxKind.BEST, MaxKind.TECHNICAL


def now(cast: Cast, kind: str, on: int = 99, movement: Movement | None = None) -> Max | None:
    rebuild_maxes(athlete=cast.athlete)
    return current_max(athlete=cast.athlete, movement=movement or squat(), kind=kind, day=day(on))


def kg(found: Max | None) -> Decimal | None:
    return None if found is None else found.kg


def test_nothing_lifted_is_no_max(cast: Cast) -> None:
    assert now(cast, BEST) is None
    assert now(cast, TECHNICAL) is None


def test_the_two_are_never_mixed(cast: Cast) -> None:
    """The last rep of the heavy set lost the position: its two good reps raise the best max only,
    and prove no more than themselves."""
    judged(cast.athlete, day(0), "140", "sss", "9")
    judged(cast.athlete, day(3), "155", "ssn", "9")
    best, technical = now(cast, BEST), now(cast, TECHNICAL)
    # Wathan at 3 + 1 reps: 100 / (48.8 + 53.8 e^-0.3) = 1.12806, at 2 reps 1.05145; to half a kg
    assert kg(technical) == Decimal("158.0")
    assert kg(best) == Decimal("163.0")


def test_a_logged_set_that_nobody_reviewed_is_no_technical_max(cast: Cast) -> None:
    lifted(cast.athlete, day(0), "140", 3, "9")
    assert kg(now(cast, BEST)) == Decimal("158.0")
    assert now(cast, TECHNICAL) is None


def test_cannot_tell_enters_nothing(cast: Cast) -> None:
    judged(cast.athlete, day(0), "140", "ccc", "9")
    assert now(cast, TECHNICAL) is None
    judged(cast.athlete, day(1), "140", "ssc", "9")
    found = now(cast, TECHNICAL)
    assert found is not None
    # Two reps count, and what was felt after the third says nothing of the second.
    assert found.at_least
    assert found.inputs["reps"] == 2


def test_a_single_to_standard_is_the_max_to_the_gram(cast: Cast) -> None:
    judged(cast.athlete, day(0), "102.058", "s", "10")  # 225 lb
    found = now(cast, TECHNICAL)
    assert found is not None
    assert (found.low_kg, found.kg, found.high_kg) == (Decimal("102.058"),) * 3
    assert found.is_exact


def test_as_of_a_day(cast: Cast) -> None:
    lifted(cast.athlete, day(0), "100", 1, "10")
    lifted(cast.athlete, day(7), "110", 1, "10")
    lifted(cast.athlete, day(14), "105", 1, "10")
    assert kg(now(cast, BEST, on=-1)) is None
    assert [kg(now(cast, BEST, on=n)) for n in (0, 6, 7, 14, 400)] == [100, 100, 110, 110, 110]


def test_the_band_starts_no_lower_than_what_was_lifted(cast: Cast) -> None:
    lifted(cast.athlete, day(0), "140", 5, "8")
    lifted(cast.athlete, day(1), "168", 1, "10")
    found = now(cast, BEST)
    assert found is not None
    assert found.kg > 168
    assert found.low_kg == 168
    assert found.inputs["proved_by"]["load"] == "168"


def test_the_same_set_in_log_and_on_film_counts_once(cast: Cast) -> None:
    in_log = lifted(cast.athlete, day(0), "140", 3, "9")
    judged(cast.athlete, day(0), "140", "sss", None, logged=in_log)
    best, technical = now(cast, BEST), now(cast, TECHNICAL)
    assert best is not None
    assert technical is not None
    assert best.inputs["clip"] == ""
    # The log knows how hard it was; the clip alone would only say "at least".
    assert technical.kg == best.kg
    assert not technical.at_least


def test_steps_and_single_answers_agree(cast: Cast, django_assert_num_queries) -> None:
    for n, load in enumerate(["100", "104", "102", "110"]):
        lifted(cast.athlete, day(n), load, 3, "9")
        judged(cast.athlete, day(n), load, "sss" if n % 2 else "sns", "9")
    rebuild_maxes(athlete=cast.athlete)
    movement = squat()
    with django_assert_num_queries(1):
        steps = max_steps(athletes=[cast.athlete], movements=[movement])
    for kind in (BEST, TECHNICAL):
        days, kgs = steps.line(cast.athlete.pk, movement.pk, kind)
        for n in range(-1, 6):
            with django_assert_num_queries(1):
                one = current_max(athlete=cast.athlete, movement=movement, kind=kind, day=day(n))
            assert steps.at(cast.athlete.pk, movement.pk, kind, day(n)) == one
            count = days.searchsorted(day(n).toordinal(), side="right")
            assert (float(kgs[count - 1]) if count else None) == (one and float(one.kg))
