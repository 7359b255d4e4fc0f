"""The private calendar of an athlete: the address, and what is behind it (RFC 5545)."""

import hashlib
import secrets
from collections.abc import Iterable
from datetime import timedelta

from django.conf import settings
from django.db import transaction
from django.db.models import Prefetch
from django.urls import reverse
from django.utils import timezone
from icalendar import Calendar, Event

from athletes.local_time import today_of
from athletes.models import User
from programming.plans.models import CalendarFeed, PlannedSession, Prescription
from programming.plans.notation import written

PRODID = "-//Coachdesk//Training sessions//EN"
DAYS_BACK = 30  # so that last week does not vanish from the calendar on Monday


@transaction.atomic
def open_feed(*, athlete: User) -> str:
    """A new secret for the address; an older one opens nothing any more. It leaves this module
    once: only its SHA-256 digest is kept. One transaction."""
    token = secrets.token_urlsafe(32)
    CalendarFeed.objects.update_or_create(
        athlete=athlete, defaults={"token_digest": digest_of(token), "made_at": timezone.now()}
    )
    return token


@transaction.atomic
def close_feed(*, athlete: User) -> None:
    """The address opens nothing any more. One transaction."""
    CalendarFeed.objects.filter(athlete=athlete).delete()


def address_of(token: str) -> str:
    """Where a calendar program finds it."""
    return f"{settings.PUBLIC_URL.rstrip('/')}{reverse('calendar-feed', args=[token])}"


def digest_of(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()


def athlete_behind(token: str) -> User | None:
    """Whose calendar an address opens; nobody's when it was closed or the account was."""
    feed = CalendarFeed.objects.filter(token_digest=digest_of(token), athlete__is_active=True)
    found = feed.select_related("athlete").first()
    return found.athlete if found else None


def calendar_of(athlete: User, host: str) -> bytes:
    """The planned sessions of the running programmes as all-day events on the athlete's local
    dates: iCalendar, UTF-8, CRLF, folded at 75 octets. ``host`` makes the UIDs the world's own.
    Two statements."""
    calendar = Calendar()
    calendar.add("version", "2.0")
    calendar.add("prodid", PRODID)
    calendar.add("method", "PUBLISH")
    calendar.add("x-wr-calname", "Training")
    for session in _sessions(athlete):
        calendar.add_component(_event(session, host))
    return calendar.to_ical()


def _sessions(athlete: User) -> Iterable[PlannedSession]:
    since = today_of(athlete) - timedelta(days=DAYS_BACK)
    lines = Prescription.objects.select_related("movement").filter(held=False)
    return (
        PlannedSession.objects.filter(
            programme__athlete=athlete, programme__ended_at=None, day__gte=since
        )
        .select_related("programme")
        .prefetch_related(Prefetch("prescriptions", queryset=lines))
        .order_by("day", "position")
    )


def _event(session: PlannedSession, host: str) -> Event:
    assert session.day is not None  # filtered by day
    event = Event()
    event.add("uid", f"{session.pk}@{host}")  # the session's own: a moved one moves
    event.add("dtstamp", timezone.now())
    event.add("dtstart", session.day)
    event.add("dtend", session.day + timedelta(days=1))  # exclusive (RFC 5545, 3.6.1)
    event.add("summary", str(session))
    lines = [f"{line.movement}: {written(line.dose)}" for line in session.prescriptions.all()]
    event.add("description", "\n".join(filter(None, [session.note, *lines])))
    event.add("sequence", session.programme.revision)
    event.add("transp", "TRANSPARENT")  # a training day does not make a person busy
    return event
