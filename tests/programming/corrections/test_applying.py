"""Whole or not at all, only what was looked at, never over another correction."""

from datetime import timedelta
from decimal import Decimal
from unittest.mock import patch

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from coachdesk.common.errors import Invalid
from programming.corrections.selectors import why
from programming.corrections.services.apply_correction import apply
from programming.models import Prescription
from programming.plans.models.correction import Change, Correction, Kind
from tests.conftest import Cast
from tests.programming.corrections import ground

CAP = {"percent": Decimal(90)}


def test_it_says_before_and_after_of_each_prescription(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    done = ground.applied(cast.coach, cast.athlete, ground.wish(Kind.CAP, **CAP))
    changes = list(done.changes.all())
    assert len(changes) == 4
    assert {(c.before["cap_percent"], c.after["cap_percent"]) for c in changes} == {(None, "90")}
    assert list(why(ground.squats(made)[0])) == [done]
    assert done.said == "Low-bar squat not above 90% of the technical max"
    assert done.wish["movement"] == {"id": ground.movement().pk, "name": "Low-bar squat"}


def test_the_past_and_what_was_trained_stay_as_they_were(cast: Cast) -> None:
    made = ground.programme(cast.athlete, starts_on=ground.MONDAY - timedelta(weeks=1), weeks=3)
    ground.train(ground.squats(made)[2])  # today's, already begun
    ground.applied(cast.coach, cast.athlete, ground.wish(Kind.CAP, **CAP))
    caps = [line.cap_percent for line in ground.squats(made)]
    assert caps == [None, None, None, Decimal(90), Decimal(90), Decimal(90)]


def test_what_changed_since_the_look_is_not_applied(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    wanted = ground.wish(Kind.CAP, **CAP)
    seal = ground.look(cast.athlete, wanted).seal
    Prescription.objects.filter(pk=ground.squats(made)[3].pk).update(sets=9)
    before = ground.written(made)
    with pytest.raises(Invalid, match="changed since you looked"):
        apply(coach=cast.coach, athlete=cast.athlete, wish=wanted, today=ground.TODAY, seal=seal)
    assert ground.written(made) == before


def test_a_break_in_the_middle_leaves_nothing(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    before = ground.written(made)
    create = Change.objects.create
    calls = iter(range(9))

    def breaks(**fields: object) -> Change:
        if next(calls) == 2:
            raise OSError("the disk is full")
        return create(**fields)

    with patch.object(Change.objects, "create", breaks), pytest.raises(OSError, match="full"):
        ground.applied(cast.coach, cast.athlete, ground.wish(Kind.CAP, **CAP))
    assert ground.written(made) == before
    assert not Correction.objects.exists()


def test_another_correction_is_shown_and_never_written_over(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    first = ground.applied(
        cast.coach,
        cast.athlete,
        ground.wish(Kind.DOSE, sets=2, until=ground.MONDAY),
    )
    wanted = ground.wish(Kind.DOSE, sets=5)
    shown = ground.look(cast.athlete, wanted)
    assert [line.clashes for line in shown.clashing] == [(first,)]
    with pytest.raises(Invalid, match="Held by another correction: Low-bar squat: 2 sets"):
        ground.applied(cast.coach, cast.athlete, wanted)
    ground.applied(cast.coach, cast.athlete, wanted, leave_clashes=True)
    assert [line.sets for line in ground.squats(made)] == [2, 5, 5, 5]


def test_two_corrections_of_different_things_stand_beside_each_other(cast: Cast) -> None:
    made = ground.programme(cast.athlete)
    ground.applied(cast.coach, cast.athlete, ground.wish(Kind.CAP, **CAP))
    ground.applied(cast.coach, cast.athlete, ground.wish(Kind.DOSE, sets=2))
    assert {(line.cap_percent, line.sets) for line in ground.squats(made)} == {(Decimal(90), 2)}


def test_what_changes_nothing_is_refused_with_the_reason(cast: Cast) -> None:
    with pytest.raises(Invalid, match="no session is planned"):
        ground.applied(cast.coach, cast.athlete, ground.wish(Kind.HOLD))
    ground.programme(cast.athlete)
    front = ground.movement("Front squat")
    with pytest.raises(Invalid, match="none of the sessions to come holds the Front squat"):
        ground.applied(cast.coach, cast.athlete, ground.wish(Kind.HOLD, movement=front))
    with pytest.raises(Invalid, match="that way already"):
        ground.applied(
            cast.coach, cast.athlete, ground.wish(Kind.DOSE, reps=3, until=ground.MONDAY)
        )


def test_a_check_back_lies_ahead(cast: Cast) -> None:
    ground.programme(cast.athlete)
    wanted = ground.wish(Kind.CAP, **CAP)
    with pytest.raises(Invalid, match="lies ahead"):
        ground.applied(
            cast.coach, cast.athlete, wanted, check_back_on=ground.TODAY - timedelta(days=1)
        )
    day = ground.TODAY + timedelta(days=10)
    made = ground.applied(cast.coach, cast.athlete, wanted, check_back_on=day)
    assert made.check_back_on == day


def test_a_preview_of_a_year_asks_no_more_than_one_of_two_weeks(cast: Cast) -> None:
    ground.programme(cast.athlete)
    ground.programme(cast.other_athlete, weeks=8)
    counts = []
    for athlete in (cast.athlete, cast.other_athlete):
        with CaptureQueriesContext(
            connection,
        ) as asked:
            assert ground.look(athlete, ground.wish(Kind.CAP, **CAP)).happening
        counts.append(len(asked))
    assert counts[0] == counts[1]
