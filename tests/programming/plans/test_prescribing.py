"""Cells, rows and rules as rows of the database."""

from datetime import date, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from coachdesk.common.errors import Conflict, Invalid
from programming.corrections.preview import preview
from programming.corrections.requests import Wish
from programming.corrections.services.apply_correction import apply
from programming.plans.models import Prescription, Programme
from programming.plans.models.correction import Change, Correction, Kind, Place
from programming.plans.selectors.programme_grid import grid_of
from programming.plans.services.set_progression import Wanted, drop_rule, set_rule
from programming.plans.services.write_prescriptions import (
    Cell,
    change_movement,
    move_row,
    write_cells,
)
from tests.conftest import Cast
from tests.programming.plans.build import (
    MONDAY,
    TODAY,
    a_programme,
    a_row,
    at,
    bench,
    line,
    loads,
    revision,
    squat,
    train,
)


def write(programme: Programme, *cells: Cell, unit: str = "kg"):
    return write_cells(programme=programme, seen=revision(programme), cells=cells, unit=unit)


def cell(programme: Programme, row, week: int, text: str, note: str | None = None) -> Cell:
    return Cell(at(programme, week).pk, row, text, note)


def held_by_a_correction(cast: Cast, prescription: Prescription, **facts: object) -> Correction:
    for name, value in facts.items():
        setattr(prescription, name, value)
    prescription.save()
    correction = Correction.objects.create(
        athlete=cast.athlete, kind=Kind.CAP, said="Squat capped at 95%", made_by=cast.coach
    )
    Change.objects.create(correction=correction, prescription=prescription, before={}, after={})
    return correction


def test_a_row_goes_through_every_coming_week(programme: Programme) -> None:
    row = a_row(programme, "3x5 @ 80% tempo 3-1-0 rest 2:30")
    first = line(programme, row, 1)
    assert (first.sets, first.reps, first.target_kind) == (3, 5, "technical")
    assert (first.tempo, first.rest_seconds) == ("3-1-0", 150)
    assert loads(programme, row) == [Decimal(80)] * 4


def test_a_cell_is_written_cleared_and_written_again(programme: Programme) -> None:
    row = a_row(programme)
    write(programme, cell(programme, row, 2, "5x2 120kg", "belt on"))
    assert (line(programme, row, 2).target, line(programme, row, 2).note) == (120, "belt on")
    write(programme, cell(programme, row, 2, ""))
    assert not Prescription.objects.filter(row=row, session__week=2).exists()
    write(programme, cell(programme, row, 2, "5x2 90"), unit="lb")
    back = line(programme, row, 2)
    assert (back.unit, back.target) == ("lb", Decimal("40.823"))
    assert back.movement_id == line(programme, row, 1).movement_id


def test_what_cannot_be_read_is_named_and_the_rest_is_saved(programme: Programme) -> None:
    row = a_row(programme)
    bad, good = cell(programme, row, 1, "heavy"), cell(programme, row, 2, "5x5 90kg")
    written = write(programme, bad, good)
    assert list(written.refused) == [(bad.session, row)]
    assert "Begin with sets x reps" in written.refused[bad.session, row]
    assert loads(programme, row)[:2] == [Decimal(100), Decimal(90)]


def test_an_older_revision_writes_nothing(programme: Programme) -> None:
    row = a_row(programme)
    with pytest.raises(Conflict):
        write_cells(
            programme=programme, seen=1, cells=[cell(programme, row, 1, "1x1 1kg")], unit="kg"
        )
    assert loads(programme, row) == [Decimal(100)] * 4


def test_past_and_trained_cells_stay(cast: Cast) -> None:
    running = a_programme(cast.coach, cast.athlete, starts_on=MONDAY - timedelta(weeks=1))
    row = a_row(running, session=at(running, 1, 2).pk)
    train(line(running, row, 1))
    for week, place in ((1, 1), (1, 2)):
        one = Cell(at(running, week, place).pk, row, "1x1 200kg")
        assert "stays as it is" in write(running, one).refused[one.session, row]
    assert line(running, row, 1).target == 100


def test_a_foreign_session_is_refused(programme: Programme, cast: Cast) -> None:
    row = a_row(programme)
    other = a_programme(cast.coach, cast.other_athlete)
    one = Cell(at(other, 1).pk, row, "3x3 100kg")
    assert "not in the programme" in write(programme, one).refused[one.session, row]
    unknown = Cell(at(programme, 1).pk, uuid4(), "3x3 100kg")
    assert "not in the programme" in write(programme, unknown).refused[unknown.session, unknown.row]


def test_a_correction_keeps_its_cap_and_its_line(programme: Programme, cast: Cast) -> None:
    row = a_row(programme)
    correction = held_by_a_correction(cast, line(programme, row, 1), cap_percent=Decimal(90))
    written = write(programme, cell(programme, row, 1, "3x3 150kg cap 95%"))
    assert not written.refused
    assert (line(programme, row, 1).target, line(programme, row, 1).cap_percent) == (150, 90)
    one = cell(programme, row, 1, "")
    assert "Take the correction back first" in write(programme, one).refused[one.session, row]
    correction.taken_back_at = correction.made_at
    correction.save()
    write(programme, cell(programme, row, 1, "3x3 150kg"))
    assert line(programme, row, 1).cap_percent is None


def test_another_movement_from_a_session_on(programme: Programme) -> None:
    row = a_row(programme)
    changed = change_movement(
        programme=programme, seen=2, row=row, movement=bench(), session=at(programme, 3).pk
    )
    assert changed == 2
    names = [line(programme, row, week).movement.name for week in range(1, 5)]
    assert names == ["Low-bar squat"] * 2 + ["Paused bench press"] * 2


def test_a_row_moves_up_and_stays_in_bounds(programme: Programme) -> None:
    first, second = a_row(programme), a_row(programme, "3x8", movement=bench())
    for up in (True, True):
        move_row(programme=programme, seen=revision(programme), row=second, up=up)
    order = at(programme, 4).prescriptions.order_by("position").values_list("row", flat=True)
    assert list(order) == [second, first]


def rule(amount: str, **facts: object) -> Wanted:
    return Wanted(**{"from_week": 1, "step": "amount", "amount": Decimal(amount), **facts})


def test_a_rule_writes_the_numbers_and_stays(programme: Programme) -> None:
    row = a_row(programme)
    set_rule(programme=programme, seen=2, row=row, wanted=rule("2.5", deload_every=4))
    assert loads(programme, row) == [Decimal(n) for n in ("100", "102.5", "105", "89.25")]
    drop_rule(programme=programme, seen=3, row=row)
    assert not programme.progressions.exists()
    assert loads(programme, row)[1] == Decimal("102.5")


def test_the_later_weeks_follow_the_first_but_a_hand_stays(programme: Programme) -> None:
    row = a_row(programme)
    set_rule(programme=programme, seen=2, row=row, wanted=rule("5"))
    write(programme, cell(programme, row, 3, "3x5 130kg"))
    write(programme, cell(programme, row, 1, "3x5 110kg"))
    assert loads(programme, row) == [Decimal(n) for n in (110, 115, 130, 125)]


def test_a_rule_needs_something_to_start_from(programme: Programme) -> None:
    row = a_row(programme, "3x10")
    with pytest.raises(Invalid, match="no target to start from"):
        set_rule(programme=programme, seen=2, row=row, wanted=rule("5"))
    percent = a_row(programme, "3x5 80%")
    with pytest.raises(Invalid, match="needs a load"):
        set_rule(programme=programme, seen=3, row=percent, wanted=rule("5", step="share"))


def test_a_rule_leaves_what_is_past_or_held(cast: Cast) -> None:
    running = a_programme(cast.coach, cast.athlete, starts_on=MONDAY - timedelta(weeks=1))
    row = a_row(running, session=at(running, 1, 2).pk)
    train(line(running, row, 2))
    held_by_a_correction(cast, line(running, row, 3), target=Decimal(80))
    set_rule(programme=running, seen=2, row=row, wanted=rule("5"))
    assert loads(running, row) == [Decimal(n) for n in (100, 100, 80, 115)]


def test_a_drill_of_a_correction_is_one_line_through_the_weeks(
    programme: Programme, cast: Cast
) -> None:
    a_row(programme)
    wish = Wish(
        kind=Kind.ADD_DRILL,
        movement=squat(),
        until=date(2026, 12, 31),
        drill=bench(),
        sets=3,
        reps=4,
        place=Place.AFTER,
    )
    seal = preview(cast.athlete, wish, today=TODAY).seal
    apply(coach=cast.coach, athlete=cast.athlete, wish=wish, today=TODAY, seal=seal)
    drawn = grid_of(Programme.objects.get(pk=programme.pk), unit="kg")
    rows = drawn.bands[0].rows
    assert [str(row.movement) for row in rows] == ["Low-bar squat", "Paused bench press"]
    assert all(cell.line and cell.why for cell in rows[1].cells)
    said = {cell.resolved.how for cell in rows[1].cells if cell.resolved}
    assert said == {"by feel"}
