"""Making a programme and arranging its sessions; what is past stays."""

from datetime import UTC, date, datetime, timedelta

import pytest
import time_machine

from coachdesk.common.errors import Conflict, Invalid
from programming.plans.models import PlannedSession, Prescription, Programme
from programming.plans.services.arrange_sessions import (
    add_session,
    delete_session,
    delete_week,
    end_programme,
    make_programme,
    move_session,
)
from programming.plans.services.lock_programme import revise
from tests.conftest import Cast
from tests.programming.plans.build import MONDAY, a_programme, a_row, at, line, train


def days(programme: Programme) -> list[tuple[int, str]]:
    return [
        (one.week, f"{one.day:%a %d %b}") for one in programme.sessions.order_by("day", "position")
    ]


def test_weeks_times_sessions_on_their_weekdays(cast: Cast) -> None:
    programme = a_programme(cast.coach, cast.athlete, weeks=2, weekdays=[3, 0])
    assert days(programme) == [
        (1, "Mon 30 Nov"),
        (1, "Thu 03 Dec"),
        (2, "Mon 07 Dec"),
        (2, "Thu 10 Dec"),
    ]


def test_a_week_begins_on_the_day_the_programme_starts(cast: Cast) -> None:
    thursday = MONDAY + timedelta(days=3)
    programme = a_programme(cast.coach, cast.athlete, weeks=1, weekdays=[0, 3], starts_on=thursday)
    assert days(programme) == [(1, "Thu 03 Dec"), (1, "Mon 07 Dec")]


def test_a_template_has_weekdays_and_no_dates(cast: Cast) -> None:
    template = make_programme(
        by=cast.coach, athlete=None, club=cast.coach.club, name="Base", weeks=1, weekdays=[4, 1]
    )
    assert template.starts_on is None
    assert list(template.sessions.values_list("weekday", "day")) == [(1, None), (4, None)]


@pytest.mark.parametrize(
    ("facts", "says"),
    [
        ({"weekdays": []}, "at least one"),
        ({"weeks": 53}, "1 to 52"),
        ({"starts_on": None}, "starts"),
    ],
)
def test_what_is_missing_is_said(cast: Cast, facts: dict[str, object], says: str) -> None:
    with pytest.raises(Invalid, match=says):
        a_programme(cast.coach, cast.athlete, **facts)


def test_two_writers_who_saw_the_same_are_not_merged(programme: Programme) -> None:
    add_session(programme=programme, seen=1, weekday=5)
    with pytest.raises(Conflict, match="changed elsewhere"):
        add_session(programme=programme, seen=1, weekday=6)
    assert programme.sessions.count() == 12


@pytest.mark.django_db(transaction=True)
def test_a_revision_outside_a_transaction_is_a_mistake_of_ours(cast: Cast) -> None:
    with pytest.raises(RuntimeError, match="inside the transaction"):
        revise(a_programme(cast.coach, cast.athlete), seen=1)


def test_a_session_is_added_only_where_it_is_still_to_come(cast: Cast) -> None:
    running = a_programme(cast.coach, cast.athlete, starts_on=MONDAY - timedelta(weeks=1))
    new = add_session(programme=running, seen=1, weekday=1, name="Bench")
    assert [one.week for one in new] == [2, 3, 4]  # Tuesday of this week was yesterday
    assert {one.position for one in new} == {3}


def test_a_session_moves_within_its_weeks(programme: Programme) -> None:
    moved = move_session(
        programme=programme, seen=1, session=at(programme, 2).pk, day=date(2026, 12, 8)
    )
    assert (moved.week, moved.position) == (2, 1)
    with pytest.raises(Invalid, match="Week 3 begins on Mon 14"):
        move_session(programme=programme, seen=2, session=moved.pk, day=date(2026, 12, 15))
    with pytest.raises(Invalid, match="Week 1 still trains on Thu 3"):
        move_session(programme=programme, seen=2, session=moved.pk, day=date(2026, 12, 2))
    with pytest.raises(Invalid, match="past"):
        move_session(
            programme=programme, seen=2, session=at(programme, 1).pk, day=date(2026, 11, 24)
        )


def test_past_and_trained_sessions_are_read_only(cast: Cast) -> None:
    running = a_programme(cast.coach, cast.athlete, starts_on=MONDAY - timedelta(weeks=1))
    monday, thursday = at(running, 1, 1), at(running, 1, 2)
    row = a_row(running, session=thursday.pk)
    with pytest.raises(Invalid, match="Mon 23 Nov stays as it is"):
        delete_session(programme=running, seen=2, session=monday.pk)
    train(line(running, row, 1))
    with pytest.raises(Invalid, match="Sets of it are logged"):
        delete_session(programme=running, seen=2, session=thursday.pk)
    assert PlannedSession.objects.filter(programme=running).count() == 8


def test_today_is_the_athletes_own_date(cast: Cast) -> None:
    # 23:30 UTC on 29 November is already Monday 30 November in Auckland (UTC+13) and still Sunday
    # in Honolulu (UTC-10): IANA time zone database.
    programme = a_programme(cast.coach, cast.athlete)
    monday = at(programme, 1)
    with time_machine.travel(datetime(2026, 12, 1, 0, 30, tzinfo=UTC), tick=False):
        cast.athlete.timezone = "Pacific/Auckland"
        cast.athlete.save()
        with pytest.raises(Invalid, match="past"):
            delete_session(programme=programme, seen=1, session=monday.pk)
        cast.athlete.timezone = "Pacific/Honolulu"
        cast.athlete.save()
        delete_session(programme=programme, seen=1, session=monday.pk)


def test_a_week_is_taken_out_and_the_later_ones_move_up(programme: Programme) -> None:
    row = a_row(programme)
    delete_week(programme=programme, seen=2, week=2)
    programme.refresh_from_db()
    assert programme.weeks == 3
    weeks = Prescription.objects.filter(row=row).values_list("session__week", "session__day")
    assert [(week, day.day) for week, day in weeks.order_by("session__week")] == [
        (1, 30),
        (2, 14),
        (3, 21),
    ]


def test_an_ended_programme_takes_no_change(programme: Programme) -> None:
    end_programme(programme=programme, seen=1)
    with pytest.raises(Invalid, match="ended"):
        add_session(programme=programme, seen=2, weekday=5)
