"""Logging over a bad network: twice is once, late is nothing, nobody else's."""

from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.utils import timezone
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from coachdesk.common.errors import Invalid, NotFound
from programming.logs.models import BodyWeight, DirtyDay, LoggedSession, LoggedSet
from programming.logs.services.log_session import Gone, put_session, remove_session
from programming.logs.services.log_set import put_set, remove_set
from programming.logs.services.record_body_weight import record_body_weight
from tests.conftest import Cast
from tests.programming.logs.rows import NOON, a_plan, a_session, a_set, session_data, set_data


def test_the_same_thing_twice_is_one(cast: Cast) -> None:
    session_id, set_id = uuid4(), uuid4()
    for _ in range(2):
        session = a_session(cast.athlete, session_id)
        a_set(session, set_id)
    assert LoggedSession.objects.count() == LoggedSet.objects.count() == 1


def test_an_older_copy_that_arrives_late_changes_nothing(cast: Cast) -> None:
    session = a_session(cast.athlete, revision=1)
    put_session(athlete=cast.athlete, session_id=session.pk, **session_data(3, minutes=70))
    late = put_session(athlete=cast.athlete, session_id=session.pk, **session_data(2))
    assert late.minutes == 70
    row = a_set(session, revision=4, reps=5)
    again = a_set(session, row.pk, revision=3, reps=2)
    assert (again.reps, again.revision) == (5, 4)


def test_of_two_phones_with_the_same_count_the_first_to_arrive_holds(cast: Cast) -> None:
    session = a_session(cast.athlete)
    row = a_set(session, revision=1)
    a_set(session, row.pk, revision=2, reps=4)
    told = a_set(session, row.pk, revision=2, reps=1)
    assert told.reps == 4, "the second phone is told what is stored"


def test_what_was_taken_out_does_not_come_back_late(cast: Cast) -> None:
    session = a_session(cast.athlete)
    row = a_set(session)
    remove_set(athlete=cast.athlete, session_id=session.pk, set_id=row.pk, revision=2)
    with pytest.raises(Gone):
        a_set(session, row.pk, revision=1)
    assert not LoggedSet.objects.exists()
    assert a_set(session, row.pk, revision=3).pk == row.pk, "put in again on purpose"


def test_a_set_taken_out_before_it_arrived_stays_out(cast: Cast) -> None:
    session, set_id = a_session(cast.athlete), uuid4()
    remove_set(athlete=cast.athlete, session_id=session.pk, set_id=set_id, revision=2)
    with pytest.raises(Gone):
        a_set(session, set_id, revision=1)


def test_a_newer_change_survives_an_older_removal(cast: Cast) -> None:
    session = a_session(cast.athlete)
    row = a_set(session, revision=5)
    remove_set(athlete=cast.athlete, session_id=session.pk, set_id=row.pk, revision=4)
    assert LoggedSet.objects.get().pk == row.pk


@settings(
    max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
@given(order=st.permutations([("put", 1), ("put", 2), ("out", 3), ("put", 4), ("put", 5)]))
def test_any_order_of_arrival_ends_the_same(cast: Cast, order: list[tuple[str, int]]) -> None:
    """The newest change decides, in whatever order the network brings them."""
    session, set_id = a_session(cast.athlete), uuid4()
    for what, revision in order:
        ids = {"athlete": cast.athlete, "session_id": session.pk, "set_id": set_id}
        if what == "out":
            remove_set(**ids, revision=revision)
            continue
        try:
            put_set(**ids, **set_data(revision, reps=revision))
        except Gone:
            continue
    assert LoggedSet.objects.get(pk=set_id).reps == 5


def test_a_session_goes_with_its_sets_and_stays_out(cast: Cast) -> None:
    session = a_session(cast.athlete)
    row = a_set(session)
    remove_session(athlete=cast.athlete, session_id=session.pk, revision=2)
    with pytest.raises(Gone):
        a_session(cast.athlete, session.pk, revision=1)
    with pytest.raises(NotFound):
        put_set(athlete=cast.athlete, session_id=session.pk, set_id=row.pk, **set_data())


@pytest.mark.parametrize(
    ("zone", "moment", "day"),
    [
        ("Pacific/Auckland", datetime(2026, 11, 22, 11, 30, tzinfo=UTC), date(2026, 11, 23)),
        ("America/Los_Angeles", datetime(2026, 11, 24, 7, 30, tzinfo=UTC), date(2026, 11, 23)),
        # The clocks go back at 01:00 UTC (IANA tz database, EU rule): 00:30 local, still the 25th.
        ("Europe/Oslo", datetime(2026, 10, 24, 22, 30, tzinfo=UTC), date(2026, 10, 25)),
        ("Europe/Oslo", datetime(2026, 10, 25, 22, 30, tzinfo=UTC), date(2026, 10, 25)),
        ("Europe/Oslo", datetime(2026, 10, 25, 23, 30, tzinfo=UTC), date(2026, 10, 26)),
    ],
)
def test_the_day_is_the_athletes_local_date(cast: Cast, zone, moment, day) -> None:
    cast.athlete.timezone = zone
    assert a_session(cast.athlete, started_at=moment).day == day


def test_a_session_can_be_logged_for_a_day_gone_by_but_not_ahead(cast: Cast) -> None:
    assert a_session(cast.athlete, day=date(2026, 11, 2)).day == date(2026, 11, 2)
    with pytest.raises(Invalid, match="before its day"):
        a_session(cast.athlete, day=timezone.localdate() + timedelta(days=3))


def test_a_clock_that_runs_ahead_does_not_lift_in_the_future(cast: Cast) -> None:
    ahead = timezone.now() + timedelta(days=40)
    session = a_session(cast.athlete, started_at=ahead)
    assert session.started_at <= timezone.now()
    assert a_set(session, done_at=ahead).done_at <= timezone.now()


def test_a_plan_taken_away_meanwhile_does_not_cost_the_set(cast: Cast) -> None:
    plan = a_plan(cast.athlete, NOON.date(), (("Low-bar squat", 3, 3, "140"),))
    line = plan.prescriptions.get()
    kept = a_session(cast.athlete, planned=plan.pk)
    assert kept.planned == plan
    assert a_set(kept, prescription=line.pk).prescription == line
    lost = a_session(cast.athlete, planned=uuid4())
    assert lost.planned is None
    assert a_set(lost, prescription=uuid4()).prescription is None


def test_somebody_elses_plan_is_no_plan(cast: Cast) -> None:
    theirs = a_plan(cast.other_athlete, NOON.date(), (("Low-bar squat", 3, 3, "140"),))
    mine = a_session(cast.athlete, planned=theirs.pk)
    row = a_set(mine, prescription=theirs.prescriptions.get().pk)
    assert (mine.planned, row.prescription) == (None, None)


def test_another_persons_ids_are_not_there(cast: Cast) -> None:
    theirs = a_session(cast.other_athlete)
    row = a_set(theirs)
    mine = a_session(cast.athlete)
    for attempt in (
        lambda: a_session(cast.athlete, theirs.pk, revision=9),
        lambda: put_set(athlete=cast.athlete, session_id=theirs.pk, set_id=uuid4(), **set_data()),
        lambda: put_set(athlete=cast.athlete, session_id=mine.pk, set_id=row.pk, **set_data(9)),
        lambda: remove_set(athlete=cast.athlete, session_id=mine.pk, set_id=row.pk, revision=9),
        lambda: remove_session(athlete=cast.athlete, session_id=theirs.pk, revision=9),
    ):
        with pytest.raises(NotFound):
            attempt()
    assert LoggedSet.objects.get(pk=row.pk).reps == 3


def test_pounds_are_kept_as_typed_and_stored_in_kilograms(cast: Cast) -> None:
    row = a_set(a_session(cast.athlete), load=Decimal(315), unit="lb")
    assert row.load_kg == Decimal("142.882")  # 315 x 0.45359237, by definition of the pound
    with pytest.raises(Invalid, match="Check the load"):
        a_set(row.session, load=Decimal(14000))


def test_every_change_asks_for_its_day_again(cast: Cast) -> None:
    def asked() -> list[str]:
        days = [row.day.isoformat() for row in DirtyDay.objects.order_by("pk")]
        DirtyDay.objects.all().delete()
        return days

    session = a_session(cast.athlete, started_at=NOON)
    assert asked() == ["2026-11-23"]
    a_session(cast.athlete, session.pk, revision=2, started_at=NOON, day=date(2026, 11, 21))
    assert asked() == ["2026-11-23", "2026-11-21"], "the day it left, and its new one"
    a_session(cast.athlete, session.pk, revision=2)
    assert asked() == [], "a copy that changed nothing asks for nothing"
    row = a_set(session)
    remove_set(athlete=cast.athlete, session_id=session.pk, set_id=row.pk, revision=2)
    assert asked() == ["2026-11-21"] * 2


def test_one_body_weight_a_day(cast: Cast) -> None:
    day = date(2026, 11, 23)
    record_body_weight(athlete=cast.athlete, day=day, weight=Decimal("92.4"), unit="kg")
    record_body_weight(athlete=cast.athlete, day=day, weight=Decimal(203), unit="lb")
    assert BodyWeight.objects.get().kg == Decimal("92.079")
    record_body_weight(athlete=cast.athlete, day=day, weight=None, unit="kg")
    assert not BodyWeight.objects.exists()
    with pytest.raises(Invalid):
        record_body_weight(athlete=cast.athlete, day=day, weight=Decimal(9), unit="kg")
