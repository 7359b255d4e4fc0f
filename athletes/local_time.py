"""A person's own clock: a training day is the date where the athlete is, not the server's."""

from datetime import date, datetime
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.utils import timezone
from django.utils.formats import date_format

from athletes.models import User


def zone_of(person: User) -> ZoneInfo:
    """The person's time zone; UTC when the system does not know it."""
    try:
        return ZoneInfo(person.timezone)
    except (ZoneInfoNotFoundError, ValueError):
        return ZoneInfo("UTC")


def day_at(person: User, moment: datetime) -> date:
    """The date where this person is at ``moment`` (an aware datetime)."""
    return timezone.localdate(moment, zone_of(person))


def today_of(person: User) -> date:
    """The date where this person is now."""
    return day_at(person, timezone.now())


def long_date(day: date) -> str:
    """ "Fri 4 Dec"."""
    return date_format(day, "D j M")
