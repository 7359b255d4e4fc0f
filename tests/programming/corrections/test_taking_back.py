"""A correction goes as it came; once trained it can only be ended."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coachdesk.common.errors import Invalid
from programming.corrections.services.take_back_correction import end, take_back
from programming.models import Correction, Movement, Prescription
from programming.plans.models.correction import Kind
from tests.conftest import Cast
from tests.programming.corrections import ground

WISHES: list[tuple[Kind, dict[str, Any]]] = [
    (Kind.CAP, {"percent": Decimal(85)}),
    (Kind.DOSE, {"sets": 2, "tempo": "3-0-0"}),
    (Kind.HOLD, {}),
    (Kind.ADD_DRILL, {"drill_name": "Box squat", "sets": 3, "reps": 4}),
    (Kind.REBUILD, {"name": "Flat back", "target_kind": "rpe", "target": Decimal(6)}),
]


@pytest.mark.parametrize(("kind", "more"), WISHES)
def test_taken_back_the_programme_reads_as_before(
    cast: Cast, kind: Kind, more: dict[str, Any]
) -> None:
    made = ground.programme(cast.athlete)
    before = [values for _, _, values in ground.written(made)]
    done = ground.applied(cast.coach, cast.athlete, ground.wish(kind, **more))
    assert [values for _, _, values in ground.written(made)] != before
    take_back(correction=done, by=cast.second_coach, today=ground.TODAY)
    assert [values for _, _, values in ground.written(made)] == before
    done.refresh_from_db()
    assert done.taken_back_by == cast.second_coach
    assert not Movement.objects.filter(athlete=cast.athlete).exists()
    with pytest.raises(Invalid, match="holds nothing any more"):
        take_back(correction=done, by=cast.coach, today=ground.TODAY)


@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(order=st.lists(st.sampled_from(range(4)), min_size=1, max_size=4, unique=True))
def test_any_that_stand_together_come_off_in_any_case(cast: Cast, order: list[int]) -> None:
    """Whatever was applied, taken back last first leaves the programme as it was."""
    Correction.objects.all().delete()
    cast.athlete.programmes.all().delete()
    made = ground.programme(cast.athlete)
    before = [values for _, _, values in ground.written(made)]
    done = [
        ground.applied(cast.coach, cast.athlete, ground.wish(WISHES[at][0], **WISHES[at][1]))
        for at in order
    ]
    for correction in reversed(done):
        take_back(correction=correction, by=cast.coach, today=ground.TODAY)
    assert [values for _, _, values in ground.written(made)] == before


def test_not_once_a_set_of_it_was_logged(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    done = ground.applied(cast.coach, cast.athlete, ground.wish(Kind.HOLD))
    ground.train(ground.squats(made)[0])
    with pytest.raises(Invalid, match="logged on 30 November"):
        take_back(correction=done, by=cast.coach, today=ground.TODAY)
    assert all(line.held for line in ground.squats(made))


def test_it_can_be_ended_from_a_day(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    done = ground.applied(cast.coach, cast.athlete, ground.wish(Kind.CAP, percent=Decimal(85)))
    ground.train(ground.squats(made)[0])
    with pytest.raises(Invalid, match="today or a later day"):
        end(
            correction=done,
            by=cast.coach,
            today=ground.TODAY,
            from_day=ground.TODAY - timedelta(days=1),
        )
    week_two = ground.MONDAY + timedelta(weeks=1)
    end(correction=done, by=cast.coach, today=ground.TODAY, from_day=week_two)
    caps = [line.cap_percent for line in ground.squats(made)]
    assert caps == [Decimal(85), Decimal(85), None, None]


def test_what_was_changed_by_hand_since_is_not_lost(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    done = ground.applied(cast.coach, cast.athlete, ground.wish(Kind.DOSE, sets=2))
    Prescription.objects.filter(pk=ground.squats(made)[3].pk).update(sets=6)
    before = ground.written(made)
    with pytest.raises(Invalid, match="Low-bar squat on Thu 10 December was changed after"):
        take_back(correction=done, by=cast.coach, today=ground.TODAY)
    assert ground.written(made) == before


def test_a_drill_somebody_else_planned_stays_a_movement(cast: Cast) -> None:
    ground.programme(cast.athlete)
    wanted = ground.wish(Kind.REBUILD, name="Flat back", target_kind="kg", target=Decimal(90))
    done = ground.applied(cast.coach, cast.athlete, wanted)
    new = Movement.objects.get(name="Flat back")
    session = ground.programme(cast.athlete, ground.MONDAY + timedelta(weeks=20)).sessions.first()
    assert session is not None
    session.prescriptions.create(movement=new, sets=1, reps=1, position=9)
    take_back(correction=done, by=cast.coach, today=ground.TODAY)
    assert Movement.objects.filter(pk=new.pk).exists()
