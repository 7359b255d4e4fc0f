"""Undoing a change of the structure: the programme comes back exactly as it was."""

from collections.abc import Callable
from datetime import date, timedelta
from decimal import Decimal
from typing import Any
from uuid import UUID

import pytest
from django.db import models
from django.test import Client
from django.urls import reverse

from coachdesk.common.errors import Conflict, Invalid
from programming.corrections.preview import preview
from programming.corrections.requests import Wish
from programming.corrections.services.apply_correction import apply
from programming.corrections.services.take_back_correction import end, take_back
from programming.logs.models import LoggedSession, LoggedSet
from programming.models import PlannedSession, Prescription, Programme
from programming.plans.actions import ACTIONS as ALL_ACTIONS
from programming.plans.actions import arrange
from programming.plans.models.correction import Change, Correction, Kind
from programming.plans.services.undo_change import TABLES, last_change
from programming.plans.services.write_prescriptions import Cell, write_cells
from tests.conftest import Cast
from tests.programming.plans.build import (
    MONDAY,
    TODAY,
    a_programme,
    a_row,
    at,
    bench,
    line,
    revision,
    squat,
    train,
)

Data = dict[str, Any]


def everything(programme: Programme) -> Any:
    """All rows of it and all that names them, as they are in the database."""
    sessions = PlannedSession.objects.filter(programme=programme)
    lines = Prescription.objects.filter(session__programme=programme)
    facts = Programme.objects.filter(pk=programme.pk).values("weeks", "starts_on", "ended_at")
    return {
        "programme": list(facts),
        "sessions": list(sessions.order_by("pk").values()),
        "lines": list(lines.order_by("pk").values()),
        "rules": list(programme.progressions.order_by("pk").values()),
        "corrections": list(Correction.objects.order_by("pk").values()),
        "changes": list(Change.objects.order_by("pk").values()),
        "begun": list(LoggedSession.objects.order_by("pk").values()),
        "sets": list(LoggedSet.objects.order_by("pk").values()),
    }


def do(cast: Cast, programme: Programme, action: str, **data: Any) -> str:
    fresh = Programme.objects.get(pk=programme.pk)
    return arrange(cast.coach, fresh, action, {"seen": fresh.revision, **data})


def correct(cast: Cast, kind: Kind, until: date = MONDAY + timedelta(weeks=9), **more: Any) -> Any:
    wish = Wish(kind=kind, movement=squat(), until=until, **more)
    seal = preview(cast.athlete, wish, today=TODAY).seal
    return apply(coach=cast.coach, athlete=cast.athlete, wish=wish, today=TODAY, seal=seal)


@pytest.fixture
def row(cast: Cast, programme: Programme) -> UUID:
    """Squats with a rule and a note, a bench line, corrections that ended and were taken back and
    one that runs in week 1 only, and a session of week 3 that was begun without a set."""
    row = a_row(programme)
    a_row(programme, "3x8 @7", movement=bench())
    a_row(programme, "5x2 80kg", session=at(programme, 1, 2).pk)
    do(cast, programme, "set-rule", row=row, from_week=1, step="amount", amount=Decimal("2.5"),
       unit="kg", deload_every=4, deload_percent=Decimal(85))  # fmt: skip
    Prescription.objects.filter(pk=line(programme, row, 3).pk).update(note="Belt off")
    gone = correct(cast, Kind.DOSE, sets=2)
    take_back(correction=gone, by=cast.coach, today=TODAY)
    over = correct(cast, Kind.CAP, percent=Decimal(90))
    end(correction=over, by=cast.coach, today=TODAY, from_day=MONDAY + timedelta(weeks=1))
    correct(cast, Kind.DOSE, until=MONDAY, tempo="3-1-0")
    begun = at(programme, 3)
    LoggedSession.objects.create(athlete=cast.athlete, day=begun.day, planned=begun)
    return row


ACTIONS: dict[str, Callable[[Programme, UUID], Data]] = {
    "delete-week": lambda programme, row: {"week": 3},
    "delete-session": lambda programme, row: {"session": at(programme, 3).pk},
    "move-session": lambda programme, row: {
        "session": at(programme, 3).pk, "day": MONDAY + timedelta(days=15)},
    "copy-session": lambda programme, row: {
        "session": at(programme, 2).pk, "day": MONDAY + timedelta(days=18)},
    "describe-session": lambda programme, row: {
        "session": at(programme, 3).pk, "name": "Heavy", "note": "Sleep well"},
    "add-session": lambda programme, row: {"weekday": 5, "name": "Arms", "from_week": 2},
    "copy-week": lambda programme, row: {"week": 2, "to_week": 3, "add": Decimal(5)},
    "shift": lambda programme, row: {"from_day": MONDAY + timedelta(weeks=1), "days": 7},
    "add-row": lambda programme, row: {
        "session": at(programme, 2).pk, "movement": bench().pk, "text": "3x5 60kg",
        "every_week": True},
    "change-movement": lambda programme, row: {
        "row": row, "movement": bench().pk, "session": at(programme, 2).pk},
    "move-row": lambda programme, row: {"row": row, "up": False},
    "set-rule": lambda programme, row: {
        "row": row, "from_week": 1, "step": "share", "amount": Decimal(5), "unit": "kg",
        "deload_every": None, "deload_percent": Decimal(85)},
    "drop-rule": lambda programme, row: {"row": row},
    "end": lambda programme, row: {"name": ""},
}  # fmt: skip


def test_every_action_of_the_page_is_tried_here() -> None:
    assert set(ACTIONS) == set(ALL_ACTIONS) - {"undo", "save-template"}


@pytest.mark.parametrize("action", ACTIONS)
def test_undone_everything_is_as_it_was(
    cast: Cast, programme: Programme, row: UUID, action: str
) -> None:
    before = everything(programme)
    said = do(cast, programme, action, **ACTIONS[action](programme, row))
    assert everything(programme) != before
    assert do(cast, programme, "undo") == f"Undone: {said}"
    assert everything(programme) == before


def test_a_new_week_at_the_end_goes_again(cast: Cast, programme: Programme, row: UUID) -> None:
    before = everything(programme)
    do(cast, programme, "copy-week", week=2, to_week=5, add=Decimal(0))
    do(cast, programme, "undo")
    assert everything(programme) == before


def test_several_are_undone_one_after_the_other(
    cast: Cast, programme: Programme, row: UUID
) -> None:
    states = []
    for action in ("delete-week", "shift", "drop-rule", "delete-session"):
        states.append(everything(programme))
        do(cast, programme, action, **ACTIONS[action](programme, row))
    for state in reversed(states):
        do(cast, programme, "undo")
        assert everything(programme) == state


def test_cells_that_were_typed_elsewhere_since_stay(
    cast: Cast, programme: Programme, row: UUID
) -> None:
    before = everything(programme)
    do(cast, programme, "delete-week", week=3)
    other = at(programme, 2)
    cell = Cell(other.pk, row, "5x5 90kg")
    write_cells(programme=programme, seen=revision(programme), cells=[cell], unit="kg")
    do(cast, programme, "undo")
    after = everything(programme)
    typed = line(programme, row, 2)
    assert (typed.sets, typed.target) == (5, Decimal(90))
    assert [one for one in after["lines"] if one["id"] != typed.pk] == [
        one for one in before["lines"] if one["id"] != typed.pk
    ]


def test_what_was_typed_into_a_placed_week_is_not_thrown_away(
    cast: Cast, programme: Programme, row: UUID
) -> None:
    do(cast, programme, "copy-week", week=2, to_week=5, add=Decimal(0))
    cell = Cell(at(programme, 5).pk, row, "5x5 90kg")
    write_cells(programme=programme, seen=revision(programme), cells=[cell], unit="kg")
    before = everything(programme)
    with pytest.raises(Invalid, match="was changed since"):
        do(cast, programme, "undo")
    assert everything(programme) == before


def test_what_was_trained_since_stays(cast: Cast, programme: Programme, row: UUID) -> None:
    do(cast, programme, "shift", from_day=MONDAY + timedelta(weeks=1), days=7)
    train(line(programme, row, 2))
    before = everything(programme)
    with pytest.raises(Invalid, match="are logged, and what was prescribed stays"):
        do(cast, programme, "undo")
    assert everything(programme) == before


def test_a_correction_that_came_since_stays(cast: Cast, programme: Programme, row: UUID) -> None:
    do(cast, programme, "copy-week", week=2, to_week=5, add=Decimal(0))
    correct(cast, Kind.HOLD)
    before = everything(programme)
    with pytest.raises(Invalid):
        do(cast, programme, "undo")
    assert everything(programme) == before


def test_an_undo_that_saw_an_older_page_is_refused(cast: Cast, programme: Programme) -> None:
    do(cast, programme, "delete-week", week=3)
    with pytest.raises(Conflict):
        arrange(cast.coach, programme, "undo", {"seen": revision(programme) - 1})


def test_nothing_to_undo_is_said(cast: Cast, programme: Programme) -> None:
    with pytest.raises(Invalid, match="nothing to undo"):
        do(cast, programme, "undo")


def test_a_refused_change_leaves_nothing_to_undo(cast: Cast, programme: Programme) -> None:
    one_week = a_programme(cast.coach, cast.other_athlete, weeks=1)
    with pytest.raises(Invalid, match="keeps one week"):
        do(cast, one_week, "delete-week", week=1)
    assert last_change(one_week) is None


def test_all_that_names_a_session_or_a_line_outlives_it_or_is_kept() -> None:
    """A new relation with another rule would be lost with a deleted week."""
    for name in ("session", "line"):
        for relation in TABLES[name]._meta.related_objects:
            kept = relation.related_model in TABLES.values()
            safe = relation.on_delete in {models.SET_NULL, models.RESTRICT}  # or it is not deleted
            assert kept or safe, relation


def test_the_grid_offers_it_and_the_button_does_it(cast: Cast, programme: Programme) -> None:
    client = Client()
    client.force_login(cast.coach)
    grid = reverse("programme-grid", args=[programme.pk])
    url = reverse("programme-change", args=[programme.pk])
    assert "undo-bar" not in client.get(grid).content.decode()
    seen = revision(programme)
    client.post(url, {"do": "delete-week", "seen": seen, "week": 3})
    client.get(grid)
    page = client.get(grid).content.decode()
    assert "undo-bar" in page
    assert "Week 3 is out of the programme." in page
    client.post(url, {"do": "undo", "seen": seen + 1})
    assert Programme.objects.get(pk=programme.pk).weeks == 4
    client.get(grid)
    assert "undo-bar" not in client.get(grid).content.decode()


def test_a_template_is_deleted_only_after_a_question(cast: Cast) -> None:
    template = a_programme(cast.coach, None, starts_on=None)
    client = Client()
    client.force_login(cast.coach)
    page = client.get(reverse("programme-grid", args=[template.pk])).content.decode()
    question = page.index("It cannot be brought back")
    assert page.index('<details class="confirm-action">') < question < page.index('value="end"')
