"""Moving the dates: a holiday, a cold, a meet that was put off."""

from datetime import date, timedelta

from django.db import transaction
from django.db.models import F, Max

from coachdesk.common.errors import Invalid
from programming.plans.models import Programme
from programming.plans.revising import opened, place_of, revise, today_for, with_training

MOST_DAYS = 365


@transaction.atomic
def shift(*, programme: Programme, seen: int, from_day: date, days: int) -> int:
    """Every session from ``from_day`` on moves by ``days``; what lies before stays. How many moved.
    One transaction. Raises Invalid where one is past or trained, or would land on the past or
    before a session that stays."""
    programme = revise(programme, seen=seen)
    if programme.starts_on is None:
        raise Invalid("A template has no dates.")
    if not 1 <= abs(days) <= MOST_DAYS:
        raise Invalid(f"Shift by 1 to {MOST_DAYS} days.")
    moving = programme.sessions.filter(day__gte=from_day)
    sessions = list(with_training(moving).order_by("day"))
    if not sessions or sessions[0].day is None:
        raise Invalid("No session lies on or after that day.")
    opened(programme, sessions)
    _lands(programme, sessions[0].day + timedelta(days=days), from_day)
    moving.update(day=F("day") + timedelta(days=days))
    if not programme.sessions.filter(day__lt=from_day).exists():
        programme.starts_on += timedelta(days=days)
        programme.save(update_fields=["starts_on"])
    return len(sessions)


def _lands(programme: Programme, first: date, from_day: date) -> None:
    today = today_for(programme)
    if today is not None and first < today:
        raise Invalid("That would put a session into the past.")
    before = programme.sessions.filter(day__lt=from_day)
    last = before.aggregate(last=Max("day"))["last"]
    if last is not None and first <= last:
        stays = before.filter(day=last)[0]
        raise Invalid(f"That would put a session before the one of {place_of(stays)}.")
