"""What each kind of correction makes of the sessions to come."""

from decimal import Decimal

import pytest

from coachdesk.common.errors import Invalid
from programming.models import Movement, Prescription
from programming.plans.models.correction import Kind, Place
from tests.conftest import Cast
from tests.programming.corrections import ground


def test_a_cap_holds_every_set_of_the_movement_and_nothing_else(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    ground.applied(cast.coach, cast.athlete, ground.wish(Kind.CAP, percent=Decimal(90)))
    assert [line.cap_percent for line in ground.squats(made)] == [Decimal(90)] * 4
    others = Prescription.objects.exclude(movement=ground.movement())
    assert not others.exclude(cap_percent=None).exists()


def test_a_looser_cap_never_lifts_a_tighter_one(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    ground.squats(made)[0].__class__.objects.update(cap_percent=Decimal(80))
    shown = ground.look(cast.athlete, ground.wish(Kind.CAP, percent=Decimal(90)))
    assert not shown.happening
    assert {line.after["cap_percent"] for line in shown.lines} == {"80"}


@pytest.mark.parametrize(
    ("place", "order"),
    [
        (Place.BEFORE, ["Box squat", "Low-bar squat", "Paused bench press"]),
        (Place.AFTER, ["Low-bar squat", "Box squat", "Paused bench press"]),
        (Place.LAST, ["Low-bar squat", "Paused bench press", "Box squat"]),
    ],
)
def test_a_drill_stands_where_it_was_put(cast: Cast, place: Place, order: list[str]) -> None:
    made = ground.programme(cast.athlete)
    wanted = ground.wish(Kind.ADD_DRILL, drill_name="Box squat", sets=3, reps=5, place=place)
    ground.applied(cast.coach, cast.athlete, wanted)
    monday = made.sessions.get(week=1, position=1)
    lines = monday.prescriptions.order_by("position")
    assert [line.movement.name for line in lines] == order
    assert not made.sessions.get(week=1, position=2).prescriptions.filter(
        movement__name="Box squat"
    )


def test_a_drill_is_one_movement_however_often_it_is_given(cast: Cast) -> None:
    ground.programme(cast.athlete)
    ground.programme(cast.other_athlete)
    for athlete, name in [(cast.athlete, "Box squat"), (cast.other_athlete, "box squat")]:
        wanted = ground.wish(Kind.ADD_DRILL, drill_name=name, sets=3, reps=5)
        ground.applied(cast.coach, athlete, wanted)
    assert Movement.objects.filter(name__iexact="box squat").count() == 1


def test_a_swap_keeps_the_percentage_and_drops_the_kilograms(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    pause = ground.movement("Pause squat")
    ground.applied(cast.coach, cast.athlete, ground.wish(Kind.SWAP, to=pause))
    heavy, light = ground.squats(made)[:2]
    assert (heavy.movement, heavy.target_kind, heavy.target) == (pause, "", None)
    assert (light.movement, light.target_kind, light.target) == (pause, "technical", Decimal(80))


def test_a_rebuilt_technique_is_a_new_movement_without_a_max(cast: Cast) -> None:
    # Common practice, no source: a rebuilt technique is a new movement whose max starts from
    # what is lifted to standard, and every percentage follows that max.
    made = ground.programme(cast.athlete)
    wanted = ground.wish(
        Kind.REBUILD, name="Low-bar squat, flat back", target_kind="rpe", target=Decimal(6)
    )
    ground.applied(cast.coach, cast.athlete, wanted)
    new = Movement.objects.get(name="Low-bar squat, flat back")
    assert (new.parent, new.athlete, new.family) == (ground.movement(), cast.athlete, "squat")
    assert not new.max_records.exists()
    assert {line.movement for line in ground.squats(made)} == {new}
    assert {(line.target_kind, line.target) for line in ground.squats(made)} == {
        ("rpe", Decimal(6))
    }


def test_a_rebuild_under_a_name_in_use_is_refused_whole(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    wanted = ground.wish(Kind.REBUILD, name="Flat back", target_kind="kg", target=Decimal(100))
    Movement.objects.create(club=cast.athlete.club, athlete=cast.athlete, name="Flat back")
    before = ground.written(made)
    with pytest.raises(Invalid, match="movement named Flat back already"):
        ground.applied(cast.coach, cast.athlete, wanted)
    assert ground.written(made) == before
    assert not cast.athlete.corrections.exists()


def test_a_dose_changes_what_was_named_only(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    wanted = ground.wish(Kind.DOSE, sets=2, tempo="3-1-1")
    ground.applied(cast.coach, cast.athlete, wanted)
    assert [(line.sets, line.reps) for line in ground.squats(made)][:2] == [(2, 3), (2, 5)]
    assert {line.tempo for line in ground.squats(made)} == {"3-1-1"}


def test_a_hold_leaves_it_out_until_the_day_named(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    until = made.sessions.get(week=1, position=3).day
    ground.applied(cast.coach, cast.athlete, ground.wish(Kind.HOLD, until=until))
    assert [line.held for line in ground.squats(made)] == [True, True, False, False]


@pytest.mark.parametrize(
    ("kind", "more", "words"),
    [
        (Kind.ADD_DRILL, {}, "Name the drill"),
        (Kind.ADD_DRILL, {"drill_name": "Box squat"}, "sets and reps"),
        (Kind.SWAP, {}, "takes its place"),
        (Kind.CAP, {"percent": Decimal(101)}, "up to 100%"),
        (Kind.CAP, {"percent": Decimal(0)}, "above 0"),
        (Kind.REBUILD, {"name": "Flat back"}, "no max yet"),
        (Kind.REBUILD, {"name": " ", "target_kind": "kg", "target": Decimal(9)}, "Name the new"),
        (Kind.DOSE, {}, "different"),
        (Kind.DOSE, {"sets": 2, "target_kind": "kg"}, "both its kind and its number"),
    ],
)
def test_half_a_wish_is_refused_in_a_sentence(
    cast: Cast, kind: Kind, more: dict, words: str
) -> None:
    ground.programme(cast.athlete)
    with pytest.raises(Invalid, match=words):
        ground.look(cast.athlete, ground.wish(kind, **more))


def test_the_same_movement_is_no_swap(cast: Cast) -> None:
    with pytest.raises(Invalid, match="same movement"):
        ground.look(cast.athlete, ground.wish(Kind.SWAP, to=ground.movement()))
