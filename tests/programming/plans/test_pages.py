"""The grid's pages and its API: what they say, and how many statements they take."""

import json
from decimal import Decimal
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from coachdesk.common.errors import Invalid
from programming.logs.models import MaxKind, MaxRecord, MaxSource
from programming.plans.models import PlateSet, Programme
from programming.plans.plates import read_pairs, written_pairs
from tests.conftest import Cast
from tests.programming.plans.build import (
    TODAY,
    a_programme,
    a_row,
    at,
    bench,
    line,
    loads,
    revision,
    squat,
)


@pytest.fixture
def coach(cast: Cast) -> Client:
    client = Client()
    client.force_login(cast.coach)
    return client


def patch(client: Client, programme: Programme, cells: list[dict[str, Any]], seen: int = 0) -> Any:
    return client.patch(
        reverse("api-cells", args=[programme.pk]),
        json.dumps({"seen": seen or revision(programme), "cells": cells}),
        content_type="application/json",
    )


def a_max(cast: Cast, kg: int, kind: str = MaxKind.TECHNICAL) -> None:
    MaxRecord.objects.create(
        athlete=cast.athlete, movement=squat(), kind=kind, source=MaxSource.HAND, day=TODAY,
        kg=kg, low_kg=kg, high_kg=kg, reason="Tested",
    )  # fmt: skip


def test_a_typed_cell_comes_back_with_its_load(coach: Client, programme: Programme, cast: Cast):
    a_max(cast, 155)
    row = a_row(programme)
    cell = {"session": str(at(programme, 1).pk), "row": str(row), "text": "3X3 @90 %"}
    answer = patch(coach, programme, [cell])
    assert answer.status_code == 200
    told = answer.json()
    mine = told["cells"][f"{cell['session']}:{row}"]
    assert (mine["text"], mine["kg"]) == ("3x3 @ 90%", "140.000")
    assert "90% of the technical max" in mine["how"]
    assert 'data-side="25 25 10"' in mine["html"]
    assert told["revision"] == revision(programme) == 3
    assert told["refused"] == {}


def test_percentages_follow_the_current_max(coach: Client, programme: Programme, cast: Cast):
    row = a_row(programme, "3x3 @ 90%")
    page = reverse("programme-grid", args=[programme.pk])
    assert "no technical max yet: lift one to standard first" in coach.get(page).content.decode()
    a_max(cast, 155)
    assert "is 139.5" in coach.get(page).content.decode()
    a_max(cast, 165)
    assert "is 148.5" in coach.get(page).content.decode()
    assert line(programme, row, 1).target == Decimal(90)


def test_what_is_refused_is_told_cell_by_cell(coach: Client, programme: Programme) -> None:
    row = a_row(programme)
    cell = {"session": str(at(programme, 1).pk), "row": str(row), "text": "lots"}
    told = patch(coach, programme, [cell]).json()
    assert "Begin with sets x reps" in told["refused"][f"{cell['session']}:{row}"]
    assert loads(programme, row)[0] == 100


def test_an_older_revision_answers_409(coach: Client, programme: Programme) -> None:
    row = a_row(programme)
    cell = {"session": str(at(programme, 1).pk), "row": str(row), "text": "1x1 1kg"}
    answer = patch(coach, programme, [cell], seen=1)
    assert answer.status_code == 409
    assert "changed elsewhere" in answer.json()["detail"]


def test_the_grid_takes_as_many_statements_for_twelve_weeks_as_for_two(
    coach: Client, cast: Cast
) -> None:
    def statements(weeks: int, rows: int) -> int:
        made = a_programme(cast.coach, cast.athlete, weeks=weeks)
        for _ in range(rows):
            a_row(made, "3x5 @ 80%")
        with CaptureQueriesContext(connection) as taken:
            assert coach.get(reverse("programme-grid", args=[made.pk])).status_code == 200
        return len(taken)

    statements(1, 1)  # the first page also reads what the process then keeps
    assert statements(12, 6) == statements(2, 1)


def test_a_copied_week_is_dashed_and_then_placed(coach: Client, programme: Programme) -> None:
    row = a_row(programme)
    address = reverse("programme-grid", args=[programme.pk])
    shown = coach.get(f"{address}?week=4&to_week=5&add=2.5").content.decode()
    assert "not placed yet" in shown
    assert shown.count("It is not placed yet.") == 1
    assert "102.5" in shown
    told = {"do": "copy-week", "seen": "2", "week": "4", "to_week": "5", "add": "2.5"}
    coach.post(reverse("programme-change", args=[programme.pk]), told)
    assert loads(programme, row)[-1] == Decimal("102.5")


@pytest.mark.parametrize(
    ("told", "says"),
    [
        ({"do": "move-session", "day": "2020-01-01"}, "past"),
        ({"do": "move-session", "day": "soon"}, "Day: Enter a valid date."),
        ({"do": "shift", "from_day": "2026-11-30", "days": "-30"}, "into the past"),
        ({"do": "delete-session", "seen": "1"}, "changed elsewhere"),
        ({"do": "add-row", "movement": "0", "text": "3x5"}, "movement of the list"),
        ({"do": "copy-week", "week": "1", "to_week": "9"}, "another week"),
    ],
)
def test_a_refusal_is_a_sentence_on_the_page(
    coach: Client, programme: Programme, told: dict[str, str], says: str
) -> None:
    a_row(programme)
    facts = {"seen": "2", "session": str(at(programme, 1).pk), **told}
    page = coach.post(reverse("programme-change", args=[programme.pk]), facts, follow=True)
    assert says in page.content.decode()
    assert revision(programme) == 2


def test_every_deed_of_the_page_is_done(coach: Client, programme: Programme) -> None:
    row = a_row(programme)
    session = str(at(programme, 1).pk)
    deeds = [
        {"do": "describe-session", "session": session, "name": "Heavy", "note": "Belt on"},
        {"do": "move-session", "session": session, "day": "2026-12-01"},
        {"do": "copy-session", "session": session, "day": "2026-12-05"},
        {"do": "add-session", "weekday": "5", "from_week": "2", "name": ""},
        {"do": "add-row", "session": session, "movement": bench().pk, "text": "3x5 60",
         "every_week": "on"},
        {"do": "change-movement", "row": row, "session": session, "movement": bench().pk},
        {"do": "move-row", "row": row, "up": "0"},
        {"do": "set-rule", "row": row, "from_week": "1", "step": "amount", "amount": "2.5",
         "unit": "kg", "deload_every": "4", "deload_percent": "85"},
        {"do": "drop-rule", "row": row},
        {"do": "shift", "from_day": "2026-12-07", "days": "7"},
        {"do": "delete-week", "week": "4"},
        {"do": "delete-session", "session": str(at(programme, 2).pk)},
        {"do": "save-template", "name": "Base"},
        {"do": "end", "name": ""},
    ]  # fmt: skip
    for told in deeds:
        facts = {"seen": revision(programme), **told}
        page = coach.post(reverse("programme-change", args=[programme.pk]), facts, follow=True)
        levels = [message.level_tag for message in page.context["messages"]]
        assert levels == ["success"], (told, [str(m) for m in page.context["messages"]])
    assert loads(programme, row) == [Decimal(n) for n in ("100", "105")]
    programme.refresh_from_db()
    assert programme.ended_at is not None
    assert Programme.objects.get(athlete=None).name == "Base"


def test_the_athlete_reads_the_same_numbers(cast: Cast, programme: Programme) -> None:
    a_max(cast, 155)
    a_row(programme, "3x3 @ 90%")
    athlete = Client()
    athlete.force_login(cast.athlete)
    for name, args in (("my-programme", []), ("programme-sheet", [programme.pk])):
        page = athlete.get(reverse(name, args=args)).content.decode()
        assert "140\u2009kg" in page
        assert "Low-bar squat" in page


def test_plates_are_told_and_loads_follow(coach: Client, cast: Cast, programme: Programme) -> None:
    a_row(programme, "3x3 101kg")
    page = reverse("plates", args=[cast.athlete.pk])
    wrong = coach.post(page, {"unit": "kg", "bar": "15", "pairs": "25 of 4"})
    assert wrong.status_code == 422
    assert "Write each plate like" in wrong.content.decode()
    coach.post(page, {"unit": "kg", "bar": "15", "pairs": "20x2, 1x5"})
    assert PlateSet.objects.get(athlete=cast.athlete).pairs == [["20", 2], ["1", 5]]
    # A 15 kg bar, 20 20 1 1 1 a side: 101.
    assert (
        'data-side="20 20 1 1 1"'
        in coach.get(reverse("programme-grid", args=[programme.pk])).content.decode()
    )


def test_pairs_are_read_as_they_are_written() -> None:
    pairs = read_pairs("2.5, 25 x 4; 1.25×2\n25x1")
    assert pairs == ((Decimal(25), 5), (Decimal("2.5"), 1), (Decimal("1.25"), 2))
    assert read_pairs(written_pairs(pairs)) == pairs
    with pytest.raises(Invalid, match="more than 40"):
        read_pairs("25x41")


def test_a_programme_is_in_what_its_athlete_loads(
    coach: Client, cast: Cast, programme: Programme
) -> None:
    type(cast.athlete).objects.filter(pk=cast.athlete.pk).update(unit="lb")
    row = a_row(programme, "3x5 225lb")
    assert cast.coach.unit == "kg"
    page = coach.get(reverse("programme-grid", args=[programme.pk])).content.decode()
    assert "225\u2009lb" in page
    assert "102.06" not in page
    cell = {"session": str(at(programme, 1).pk), "row": str(row), "text": "3x5 230"}
    told = patch(coach, programme, [cell]).json()
    assert told["cells"][f"{cell['session']}:{row}"]["text"] == "3x5 230lb"
