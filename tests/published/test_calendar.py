"""The calendar feed against RFC 5545 (September 2009) and a reader of it, icalendar.

3.1: lines end CRLF and are at most 75 octets without it, longer ones folded by CRLF and a space,
never inside a UTF-8 character. 3.6: a calendar has VERSION and PRODID. 3.6.1: an event has UID and
DTSTAMP; DTEND of an all-day event is the day after. 3.3.5: DTSTAMP is UTC. 3.3.11: text escapes
backslash, semicolon, comma and line break. 3.8.4.7: a UID is the event's for good. (Sections from
memory.)
"""

from datetime import UTC, date, datetime, timedelta

import pytest
import time_machine
from django.test import Client
from django.urls import reverse
from icalendar import Calendar

from programming.plans.models import CalendarFeed, Programme
from programming.plans.services.arrange_sessions import (
    describe_session,
    end_programme,
    move_session,
)
from programming.plans.services.share_calendar import calendar_of, close_feed, open_feed
from tests.conftest import Cast
from tests.programming.plans.build import a_programme, a_row, at, revision

HOST = "club.example"


@pytest.fixture(autouse=True)
def _today():
    with time_machine.travel(datetime(2026, 11, 25, 11, tzinfo=UTC), tick=False):
        yield


@pytest.fixture
def programme(cast: Cast) -> Programme:
    made = a_programme(cast.coach, cast.athlete)
    a_row(made, "3x5 @ 82.5% rest 2:30")
    return made


def raw(cast: Cast) -> bytes:
    return calendar_of(cast.athlete, HOST)


def events(cast: Cast) -> list:
    return Calendar.from_ical(raw(cast)).walk("VEVENT")


def test_lines_end_crlf_and_fold_at_75_octets(cast: Cast, programme: Programme) -> None:
    note = "Süß, langsam; ein Zug \\ kein Ruck — " * 12
    describe_session(
        programme=programme, seen=2, session=at(programme, 1).pk, name="Kniebeuge", note=note
    )
    text = raw(cast)
    assert text.endswith(b"END:VCALENDAR\r\n")
    lines = text.split(b"\r\n")
    assert not any(b"\n" in line or b"\r" in line for line in lines)
    assert max(map(len, lines)) <= 75
    assert any(line.startswith(b" ") for line in lines)  # something was folded
    for line in lines:
        line.decode()  # no fold inside a character
    first = next(event for event in events(cast) if "Kniebeuge" in event["summary"])
    assert first["description"].startswith(note.strip() + "\n")


def test_what_a_calendar_must_have(cast: Cast, programme: Programme) -> None:
    calendar = Calendar.from_ical(raw(cast))
    assert calendar["version"] == "2.0"
    assert calendar["prodid"]
    assert len(events(cast)) == 8
    for event in events(cast):
        assert str(event["dtstamp"].to_ical().decode()) == "20261125T110000Z"
        assert event["uid"].endswith(f"@{HOST}")
        assert event["dtend"].dt - event["dtstart"].dt == timedelta(days=1)
    assert len({event["uid"] for event in events(cast)}) == 8
    assert b"DTSTART;VALUE=DATE:20261130\r\n" in raw(cast)
    assert "Low-bar squat: 3x5 @ 82.5% rest 2:30" in events(cast)[0]["description"]


def test_the_day_is_the_athletes_own_date_in_any_zone(cast: Cast, programme: Programme) -> None:
    for zone in ("Pacific/Auckland", "Pacific/Honolulu"):
        cast.athlete.timezone = zone
        cast.athlete.save()
        assert events(cast)[0]["dtstart"].dt == date(2026, 11, 30)


def test_a_moved_session_keeps_its_uid_and_counts_up(cast: Cast, programme: Programme) -> None:
    before = events(cast)[0]
    session = at(programme, 1).pk
    move_session(
        programme=programme, seen=revision(programme), session=session, day=date(2026, 12, 1)
    )
    after = events(cast)[0]
    assert (before["uid"], after["dtstart"].dt) == (after["uid"], date(2026, 12, 1))
    assert after["sequence"] > before["sequence"]


def test_an_ended_programme_is_out_of_the_calendar(cast: Cast, programme: Programme) -> None:
    end_programme(programme=programme, seen=2)
    assert events(cast) == []


def test_the_address_is_secret_and_can_be_closed(cast: Cast, programme: Programme) -> None:
    token = open_feed(athlete=cast.athlete)
    assert token not in str(CalendarFeed.objects.values_list("token_digest", flat=True))
    client = Client()
    address = reverse("calendar-feed", args=[token])
    answer = client.get(address)
    assert answer.headers["Content-Type"] == "text/calendar; charset=utf-8"
    assert "no-store" in answer.headers["Cache-Control"]
    assert len(Calendar.from_ical(answer.content).walk("VEVENT")) == 8
    newer = reverse("calendar-feed", args=[open_feed(athlete=cast.athlete)])
    assert (client.get(address).status_code, client.get(newer).status_code) == (404, 200)
    close_feed(athlete=cast.athlete)
    assert client.get(newer).status_code == 404


def test_a_closed_account_closes_its_calendar(cast: Cast) -> None:
    address = reverse("calendar-feed", args=[open_feed(athlete=cast.athlete)])
    type(cast.athlete).objects.filter(pk=cast.athlete.pk).update(is_active=False)
    assert Client().get(address).status_code == 404
