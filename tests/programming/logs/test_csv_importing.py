"""In whole or not at all; the same twice is once; out and in again is the same log."""

import csv
import io
from datetime import date
from decimal import Decimal

import pandas as pd
import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse

from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.logs.csv.export import HEADER, lines
from programming.logs.csv.selectors import preview_of
from programming.logs.csv.services import NEW, import_sessions
from programming.logs.models import BodyWeight, DirtyDay, ImportDraft, LoggedSession, LoggedSet
from programming.logs.services.record_body_weight import record_body_weight
from programming.models import Movement
from tests.conftest import Cast
from tests.programming.logs.rows import a_session, a_set

LOG = """date,movement,load,reps,rpe,session rpe,minutes
2026-11-02,low-bar squat,140,3,8,7,70
2026-11-02,Cambered bar squat,100,5,,,
2026-11-04,Barbell row,,8,,,
"""


def exported(athlete: User) -> str:
    sessions = LoggedSession.objects.filter(athlete=athlete)
    weights = BodyWeight.objects.filter(athlete=athlete)
    return "".join(lines(athlete=athlete, sessions=sessions, weights=weights))


def brought(athlete: User, text: str):
    preview = preview_of(athlete, text, {})
    return import_sessions(athlete=athlete, parsed=preview.parsed, chosen=preview.chosen)


def test_a_log_comes_in_with_its_sessions_and_a_new_movement(cast: Cast) -> None:
    done = brought(cast.athlete, LOG)
    assert (done.sessions, done.sets) == (2, 3)
    first, second = LoggedSession.objects.order_by("day")
    assert (first.session_rpe, first.minutes, second.session_rpe) == (7, 70, None)
    assert [row.movement.name for row in first.sets.all()] == [
        "Low-bar squat", "Cambered bar squat"
    ]  # fmt: skip
    made = Movement.objects.get(name="Cambered bar squat")
    assert (made.athlete, made.club) == (cast.athlete, cast.athlete.club)
    assert {row.day for row in DirtyDay.objects.all()} == {first.day, second.day}


def test_the_same_file_twice_is_the_same_as_once(cast: Cast) -> None:
    brought(cast.athlete, LOG)
    again = brought(cast.athlete, LOG)
    assert (again.sets, again.days_left_out) == (0, 2)
    assert LoggedSet.objects.count() == 3


def test_one_bad_row_and_nothing_comes_in(cast: Cast) -> None:
    with pytest.raises(Invalid, match="Some rows"):
        brought(cast.athlete, LOG + "2026-11-05,Barbell row,60,many,,,\n")
    assert not LoggedSession.objects.exists()


def test_a_failure_in_the_middle_leaves_nothing(cast: Cast, monkeypatch) -> None:
    monkeypatch.setattr("programming.logs.csv.services.mark_days_dirty", lambda *_: 1 / 0)
    with pytest.raises(ZeroDivisionError):
        brought(cast.athlete, LOG)
    assert not LoggedSession.objects.exists()
    assert not Movement.objects.filter(athlete=cast.athlete).exists()


def test_somebody_elses_movement_cannot_be_chosen(cast: Cast) -> None:
    theirs = Movement.objects.create(
        name="Rebuilt squat", athlete=cast.other_athlete, club=cast.other_athlete.club,
        family="squat",
    )  # fmt: skip
    parsed = preview_of(cast.athlete, LOG, {}).parsed
    chosen = dict.fromkeys(parsed.movements, NEW) | {"low-bar squat": str(theirs.pk)}
    with pytest.raises(Invalid, match="Choose a movement"):
        import_sessions(athlete=cast.athlete, parsed=parsed, chosen=chosen)


def nasty(athlete: User) -> None:
    """Two sessions of a day, both units, a miss, no load, and notes that are formulas."""
    session = a_session(athlete, minutes=70, session_rpe=Decimal("7.5"), note='=cmd|"/c calc"!A1')
    notes = ["-felt heavy", "@home", "'=quoted", 'comma, "quote"\r\nand a line', "plain", "+1"]
    for note in notes:
        a_set(session, note=note, load=Decimal(315), unit="lb", missed_reps=1)
    evening = a_session(athlete, started_at=session.started_at.replace(hour=18))
    a_set(evening, load=None, rpe=None, reps=12)
    a_set(evening, load=Decimal("62.5"), rpe=Decimal("8.5"))
    record_body_weight(athlete=athlete, day=date(2026, 11, 23), weight=Decimal("82.4"), unit="kg")


def test_out_and_in_again_is_the_same_log(cast: Cast) -> None:
    nasty(cast.athlete)
    text = exported(cast.athlete)
    brought(cast.other_athlete, text.removeprefix("\ufeff"))
    assert exported(cast.other_athlete) == text
    kg = LoggedSet.objects.order_by("session__started_at", "position").values_list(
        "load_kg", "reps", "missed_reps", "rpe", "note", "session__minutes", "session__note"
    )
    mine, theirs = (list(kg.filter(session__athlete=one)) for one in cast[3:5])
    assert mine == theirs


def test_the_file_is_what_the_standard_says_and_others_read(cast: Cast) -> None:
    """RFC 4180: CRLF after every record, quotes doubled, every record as long as the header."""
    nasty(cast.athlete)
    text = exported(cast.athlete).removeprefix("\ufeff")
    records = list(csv.reader(io.StringIO(text, newline=""), strict=True))
    assert {len(record) for record in records} == {len(HEADER)}
    assert text.count("\r\n") == len(records) + 1, "one more stands inside a quoted note"
    assert '"comma, ""quote""\r\nand a line"' in text
    assert not any(cell.startswith(tuple("=+-@\t\r")) for record in records for cell in record)
    table = pd.read_csv(io.StringIO(text), dtype=str)
    assert list(table.columns) == HEADER
    assert table["load"].tolist()[:2] == ["315", "315"]


def test_through_the_pages(cast: Cast) -> None:
    client = Client()
    client.force_login(cast.athlete)
    sent = SimpleUploadedFile(
        "old.csv", "\ufeffDay;Squat kind;kg;Reps\n02.11.2026;SSB;100;5\n".encode()
    )
    answer = client.post(reverse("log-import"), {"file": sent})
    assert answer.url == reverse("log-import-check")
    page = client.get(answer.url)
    assert b"No column tells the movement" in b" ".join(page.content.split())
    squat = Movement.objects.get(club=None, name="High-bar squat").pk
    told = {f"column-{n}": name for n, name in enumerate(["date", "movement", "load", "reps"])}
    told |= {"dates": "dmy", "unit": "kg", "movement-0": str(squat), "name-0": "SSB"}
    preview = client.post(answer.url, told | {"deed": "look"})
    assert b"1 session, 2 Nov 2026" in b" ".join(preview.content.split())
    assert client.post(answer.url, told | {"deed": "bring"}).url == reverse("training-log")
    row = LoggedSet.objects.get()
    assert (row.movement_id, row.load_kg, row.reps) == (squat, 100, 5)
    assert not ImportDraft.objects.exists()
    out = client.get(reverse("log-export"))
    assert out["Content-Disposition"].startswith('attachment; filename="training-log-')
    assert b"High-bar squat" in b"".join(out.streaming_content)
