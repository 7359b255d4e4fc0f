"""Copies, shifted dates and templates."""

from datetime import date, timedelta
from decimal import Decimal

import pytest

from coachdesk.common.errors import Invalid
from programming.movements.models import Movement
from programming.plans.models import Prescription, Programme
from programming.plans.services.arrange_sessions import shift_sessions
from programming.plans.services.copy_sessions import copied_week, copy_session, copy_week
from programming.plans.services.save_template import (
    delete_template,
    make_from_template,
    save_as_template,
)
from programming.plans.services.set_progression import Wanted, set_rule
from programming.plans.services.write_prescriptions import Cell, write_cells
from tests.conftest import Cast
from tests.programming.plans.build import (
    MONDAY,
    a_programme,
    a_row,
    at,
    line,
    loads,
    revision,
    squat,
    train,
)
from tests.programming.plans.test_prescribing import held_by_a_correction


def test_a_week_is_shown_before_it_is_placed(programme: Programme) -> None:
    row = a_row(programme)
    capped = a_row(programme, "3x3 120kg cap 95%", every_week=False)
    percent = a_row(programme, "2x8 @ 70%", every_week=False)
    copies = copied_week(programme, 1, 5, add=Decimal("2.5"))
    assert [copy.session.day for copy in copies] == [date(2026, 12, 28), date(2026, 12, 31)]
    targets = {one.row: one.target for one in copies[0].lines}
    assert targets == {row: Decimal("102.5"), capped: 120, percent: 70}
    assert programme.sessions.count() == 8  # nothing is written yet
    copy_week(programme=programme, seen=revision(programme), week=1, to_week=5, add=Decimal("2.5"))
    programme.refresh_from_db()
    assert programme.weeks == 5
    written = {one.row: one.target for one in at(programme, 5).prescriptions.all()}
    assert written == targets


def test_a_copy_lands_on_the_sessions_that_are_there(programme: Programme, cast: Cast) -> None:
    row = a_row(programme, every_week=False)
    old = a_row(programme, "1x1 50kg", session=at(programme, 2).pk, every_week=False)
    kept = a_row(programme, "1x1 60kg", session=at(programme, 2).pk, every_week=False)
    held_by_a_correction(cast, line(programme, kept, 2))
    day = at(programme, 2).day
    copy_week(programme=programme, seen=revision(programme), week=1, to_week=2)
    there = at(programme, 2)
    assert there.day == day
    assert set(there.prescriptions.values_list("row", flat=True)) == {row, kept}
    assert not Prescription.objects.filter(row=old).exists()


def test_a_trained_week_is_not_copied_over(cast: Cast) -> None:
    running = a_programme(cast.coach, cast.athlete, starts_on=MONDAY - timedelta(weeks=1))
    row = a_row(running, session=at(running, 1, 2).pk)
    train(line(running, row, 3))
    with pytest.raises(Invalid, match="Thu 10 Dec stays as it is"):
        copied_week(running, 1, 3)
    with pytest.raises(Invalid, match="another week"):
        copied_week(running, 1, 7)
    with pytest.raises(Invalid, match="another week"):
        copied_week(running, 1, 1)


def test_an_empty_week_is_not_copied(programme: Programme) -> None:
    with pytest.raises(Invalid, match="empty"):
        copied_week(programme, 1, 2)


def test_a_copied_session_is_another_line_where_the_place_is_taken(programme: Programme) -> None:
    row = a_row(programme)
    new = copy_session(
        programme=programme, seen=2, session=at(programme, 1).pk, day=date(2026, 12, 9)
    )
    assert (new.week, new.position) == (2, 3)
    assert new.prescriptions.get().row != row
    with pytest.raises(Invalid, match="past"):
        copy_session(
            programme=programme, seen=3, session=at(programme, 1).pk, day=date(2026, 11, 24)
        )


def test_dates_shift_from_a_day_on(programme: Programme) -> None:
    assert shift_sessions(programme=programme, seen=1, from_day=date(2026, 12, 14), days=7) == 4
    mondays = [at(programme, week).day for week in range(1, 5)]
    assert [day.day for day in mondays] == [30, 7, 21, 28]
    with pytest.raises(Invalid, match="before the one of Thu 10 Dec"):
        shift_sessions(programme=programme, seen=2, from_day=date(2026, 12, 21), days=-14)
    with pytest.raises(Invalid, match="into the past"):
        shift_sessions(programme=programme, seen=2, from_day=MONDAY, days=-7)


def test_the_start_shifts_with_the_whole_and_a_new_week_follows_on(programme: Programme) -> None:
    a_row(programme)
    shift_sessions(programme=programme, seen=2, from_day=MONDAY, days=2)
    programme.refresh_from_db()
    assert programme.starts_on == MONDAY + timedelta(days=2)
    copy_week(programme=programme, seen=3, week=1, to_week=5)
    assert at(programme, 5).day == at(programme, 4).day + timedelta(days=7)


def test_what_was_trained_does_not_shift(cast: Cast) -> None:
    running = a_programme(cast.coach, cast.athlete, starts_on=MONDAY - timedelta(weeks=1))
    row = a_row(running, session=at(running, 1, 2).pk)
    train(line(running, row, 2))
    with pytest.raises(Invalid, match="Sets of it are logged"):
        shift_sessions(programme=running, seen=2, from_day=MONDAY - timedelta(days=4), days=7)


def test_a_template_keeps_the_plan_and_not_the_person(programme: Programme, cast: Cast) -> None:
    own = Movement.objects.create(
        club=cast.coach.club, athlete=cast.athlete, parent=squat(), family="squat", name="Rebuilt"
    )
    row = a_row(programme, "3x5 100kg cap 90%", movement=own)
    set_rule(programme=programme, seen=2, row=row, wanted=Wanted(1, "amount", Decimal("2.5")))
    template = save_as_template(by=cast.coach, programme=programme, name="Base")
    assert {one.movement for one in Prescription.objects.filter(session__programme=template)} == {
        squat()
    }
    made = make_from_template(
        by=cast.coach, template=template, athlete=cast.other_athlete, starts_on=date(2027, 1, 6)
    )
    assert loads(made, row) == [Decimal(n) for n in ("100", "102.5", "105", "107.5")]
    assert {one.cap_percent for one in Prescription.objects.filter(session__programme=made)} == {
        None
    }
    # Wednesday 6 January: the week runs Wednesday to Tuesday, so Thursday comes first.
    assert sorted(made.sessions.filter(week=1).values_list("day", flat=True)) == [
        date(2027, 1, 7),
        date(2027, 1, 11),
    ]
    assert made.progressions.get().row == row


def test_somebodys_programme_is_no_template(programme: Programme, cast: Cast) -> None:
    with pytest.raises(Invalid):
        make_from_template(
            by=cast.coach, template=programme, athlete=cast.athlete, starts_on=MONDAY
        )
    with pytest.raises(Invalid):
        delete_template(template=programme)


def test_lines_come_back_by_their_row_after_a_clear(programme: Programme) -> None:
    row = a_row(programme)
    empty = Cell(at(programme, 1).pk, row, "")
    write_cells(programme=programme, seen=2, cells=[empty], unit="kg")
    copy_week(programme=programme, seen=3, week=2, to_week=1)
    assert loads(programme, row) == [Decimal(100)] * 4
