"""A club's movements, and rebuilding one for an athlete."""

from datetime import date
from decimal import Decimal

import pytest

from coachdesk.common.errors import Invalid
from programming.logs.selectors.current_maxes import current_max
from programming.logs.services.refresh_maxes import rebuild_maxes
from programming.models import Movement
from programming.movements.services import (
    rebuild_movement,
    restore_movement,
    retire_movement,
    save_movement,
)
from programming.permissions import movements_kept_by, movements_of, movements_visible_to
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, judged, squat

pytestmark = pytest.mark.django_db


def beltless(cast: Cast) -> Movement:
    return save_movement(movement=Movement(family="squat", name="Beltless squat"), by=cast.coach)


def test_an_added_movement_is_the_clubs(cast: Cast) -> None:
    made = beltless(cast)
    assert made in movements_visible_to(cast.athlete)
    assert made not in movements_visible_to(cast.outsider)
    assert made not in movements_kept_by(cast.stranger)
    assert made not in movements_kept_by(cast.athlete)


@pytest.mark.parametrize("name", ["beltless squat", " Beltless  squat ", "LOW-BAR SQUAT"])
def test_a_name_is_not_given_twice(cast: Cast, name: str) -> None:
    beltless(cast)
    with pytest.raises(Invalid, match="already"):
        save_movement(movement=Movement(family="squat", name=name), by=cast.coach)


def test_two_clubs_may_use_one_name(cast: Cast) -> None:
    beltless(cast)
    assert save_movement(
        movement=Movement(family="squat", name="Beltless squat"), by=cast.stranger
    ).pk


def test_what_came_with_the_house_is_left_alone(cast: Cast) -> None:
    with pytest.raises(Invalid, match="every club"):
        retire_movement(movement=squat())
    with pytest.raises(Invalid, match="every club"):
        save_movement(movement=squat(), by=cast.coach)


def test_once_lifted_it_stays_the_same_variant(cast: Cast) -> None:
    made = beltless(cast)
    made.stance = "wide"
    save_movement(movement=made, by=cast.coach)
    judged(cast.athlete, day(0), "100", "s", "10", movement=made)
    made.name = "Wide beltless squat"
    save_movement(movement=made, by=cast.coach)
    made.stance = "narrow"
    with pytest.raises(Invalid, match="Add the other variant"):
        save_movement(movement=made, by=cast.coach)
    made.refresh_from_db()
    assert (made.name, made.stance) == ("Wide beltless squat", "wide")


def test_a_retired_movement_comes_back(cast: Cast) -> None:
    made = beltless(cast)
    retire_movement(movement=made)
    made.refresh_from_db()
    assert made.retired_at is not None
    restore_movement(movement=made)
    made.refresh_from_db()
    assert made.retired_at is None


def test_a_rebuilt_movement_remembers_its_parent_and_inherits_no_max(cast: Cast) -> None:
    """A rebuilt technique is a new movement whose max starts from what is lifted to standard
    (common practice, no source)."""
    judged(cast.athlete, day(0), "150", "sss", "9")
    rebuild_maxes(athlete=cast.athlete)
    new = rebuild_movement(athlete=cast.athlete, parent=squat(), name="Low-bar squat, rebuilt")
    assert (new.parent, new.bar_position, new.family) == (squat(), "low bar", "squat")
    rebuild_maxes(athlete=cast.athlete)
    asked = {"athlete": cast.athlete, "kind": "technical", "day": date(2027, 1, 1)}
    assert current_max(movement=new, **asked) is None
    judged(cast.athlete, day(9), "100", "s", "10", movement=new)
    rebuild_maxes(athlete=cast.athlete)
    found = current_max(movement=new, **asked)
    assert found is not None
    assert found.kg == Decimal(100)
    kept = current_max(movement=squat(), **asked)
    assert kept is not None
    assert kept.kg > 150


def test_a_rebuilt_movement_is_that_athletes_alone(cast: Cast) -> None:
    new = rebuild_movement(athlete=cast.athlete, parent=squat(), name="Low-bar squat, rebuilt")
    assert new in movements_of(cast.athlete)
    assert new not in movements_of(cast.other_athlete)
    with pytest.raises(Invalid):
        rebuild_movement(athlete=cast.other_athlete, parent=new, name="Mine now")
