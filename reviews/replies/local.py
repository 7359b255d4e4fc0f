"""Days as the person sees them."""

from datetime import date
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


def today_of(person: User) -> date:
    """The date where this person is."""
    return timezone.localdate(timezone=zone_of(person))


def long_date(day: date) -> str:
    """ "Fri 4 Dec"."""
    return date_format(day, "D j M")
