"""A drill that is added is a movement like any other: found by its name, gone when unused."""

from datetime import timedelta
from decimal import Decimal

import pytest

from coachdesk.common.errors import Invalid
from programming.corrections.services.take_back_correction import take_back
from programming.models import Movement, Prescription
from programming.plans.models.correction import Kind
from programming.plans.notation import read_with_words
from tests.conftest import Cast
from tests.programming.corrections import ground

DOSE = {"sets": 3, "reps": 4}


def add(cast: Cast, name: str, **more: object):
    return ground.applied(
        cast.coach, cast.athlete, ground.wish(Kind.ADD_DRILL, drill_name=name, **DOSE, **more)
    )


@pytest.mark.parametrize("name", ["Pause squat", "pause  squat ", "PAUSE SQUAT"])
def test_a_drill_with_the_name_of_a_shared_movement_is_that_movement(cast: Cast, name: str) -> None:
    made = ground.programme(cast.athlete)
    add(cast, name)
    assert Movement.objects.filter(name__iexact="pause squat").count() == 1
    drills = Prescription.objects.filter(session__programme=made, movement__name="Pause squat")
    assert {line.movement.club for line in drills} == {None}


def test_a_drill_of_the_athletes_own_is_that_one(cast: Cast) -> None:
    ground.programme(cast.athlete)
    own = Movement.objects.create(
        club=cast.athlete.club, athlete=cast.athlete, family="squat", name="Mira's box squat"
    )
    done = add(cast, "mira's box squat")
    assert {change.after["movement_id"] for change in done.changes.all()} == {own.pk}


def test_taking_back_takes_the_movement_that_only_it_made(cast: Cast) -> None:
    ground.programme(cast.athlete)
    done = add(cast, "Plate squeeze")
    assert Movement.objects.filter(name="Plate squeeze").exists()
    take_back(correction=done, by=cast.coach, today=ground.TODAY)
    assert not Movement.objects.filter(name="Plate squeeze").exists()


def test_a_drill_that_somebody_else_was_given_too_stays_until_the_last(cast: Cast) -> None:
    ground.programme(cast.athlete)
    ground.programme(cast.other_athlete)
    first = add(cast, "Plate squeeze")
    second = ground.applied(
        cast.coach,
        cast.other_athlete,
        ground.wish(Kind.ADD_DRILL, drill_name="plate squeeze", **DOSE),
    )
    take_back(correction=first, by=cast.coach, today=ground.TODAY)
    assert Movement.objects.filter(name="Plate squeeze").exists()
    take_back(correction=second, by=cast.coach, today=ground.TODAY)
    assert not Movement.objects.filter(name="Plate squeeze").exists()


def test_a_shared_movement_never_goes(cast: Cast) -> None:
    ground.programme(cast.athlete)
    take_back(correction=add(cast, "Pause squat"), by=cast.coach, today=ground.TODAY)
    assert Movement.objects.filter(name="Pause squat", club=None).exists()


@pytest.mark.parametrize("place", ["before", "after", "last"])
def test_the_same_drill_is_not_added_twice(cast: Cast, place: str) -> None:
    made = ground.programme(cast.athlete)
    add(cast, "Pause squat", place=place)
    lines = len(ground.written(made))
    with pytest.raises(Invalid, match="that way already"):
        add(cast, "Pause squat", place=place)
    assert len(ground.written(made)) == lines


def test_a_drill_reaches_the_sessions_that_do_not_hold_it_yet(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    add(cast, "Pause squat", until=ground.MONDAY)
    add(cast, "Pause squat")
    by_session = made.sessions.filter(prescriptions__movement__name="Pause squat")
    assert by_session.count() == by_session.distinct().count() == 4
    assert made.starts_on + timedelta(days=10) in set(by_session.values_list("day", flat=True))


@pytest.mark.parametrize(
    ("text", "sets", "reps", "words"),
    [
        ("3 × 4 at 65 to 70% of technical max, 2 s pause", 3, 4,
         "at 65 to 70% of technical max, 2 s pause"),
        ("3 × 8, light, 2 s at depth", 3, 8, "light, 2 s at depth"),
        ("4 × 15 s at 100 to 110%", 4, 1, "15 s at 100 to 110%"),
        ("3 × 8 each side, light", 3, 8, "each side, light"),
        ("3x5 @7", 3, 5, ""),
    ],
)  # fmt: skip
def test_the_words_after_a_dose_are_kept(text: str, sets: int, reps: int, words: str) -> None:
    dose, kept = read_with_words(text)
    assert (dose.sets, dose.reps, kept) == (sets, reps, words)


def test_what_is_notation_is_read_beside_the_words() -> None:
    dose, kept = read_with_words("3 x 5 @7 tempo 3-1-0, Touch the box")
    assert (dose.kind, dose.target, dose.tempo) == ("rpe", Decimal(7), "3-1-0")
    assert kept == "Touch the box"


@pytest.mark.parametrize("text", ["light", "3x5 @ 825%", "3x5 2500kg", "0x5", "3x5 @7 @8"])
def test_a_slip_of_the_pen_is_still_refused(text: str) -> None:
    with pytest.raises(Invalid):
        read_with_words(text)
