"""Making a programme and arranging its sessions; each public function is one transaction."""

from collections.abc import Sequence
from datetime import date, timedelta
from uuid import UUID

from django.db import transaction
from django.db.models import F, Max
from django.utils import timezone

from athletes.models import Club, User
from coachdesk.common.errors import Invalid
from programming.plans.models import PlannedSession, Programme
from programming.plans.running_corrections import refuse_corrected
from programming.plans.services.lock_programme import (
    opened,
    place_of,
    revise,
    session_of,
    today_for,
    with_training,
)

MOST_WEEKS = 52
MOST_SESSIONS = 14  # a week


@transaction.atomic
def make_programme(
    *,
    by: User,
    athlete: User | None,
    club: Club,
    name: str,
    weeks: int,
    weekdays: Sequence[int],
    starts_on: date | None = None,
) -> Programme:
    """Weeks x sessions on ``weekdays`` (0 is Monday); without an athlete a template, without dates.
    One transaction. Raises Invalid."""
    if not weekdays:
        raise Invalid("Choose at least one training day.")
    if not 1 <= weeks <= MOST_WEEKS:
        raise Invalid(f"A programme has 1 to {MOST_WEEKS} weeks.")
    if athlete is not None and starts_on is None:
        raise Invalid("Choose the day it starts.")
    programme = Programme.objects.create(
        club=club,
        athlete=athlete,
        name=name.strip() or "Programme",
        starts_on=starts_on if athlete else None,
        weeks=weeks,
        made_by=by,
    )
    days = sorted(set(weekdays), key=lambda day: _since_start(programme, day))
    PlannedSession.objects.bulk_create(
        PlannedSession(
            programme=programme, week=week, position=place, **dated(programme, week, day)
        )
        for week in range(1, weeks + 1)
        for place, day in enumerate(days, 1)
    )
    return programme


def dated(programme: Programme, week: int, weekday: int) -> dict[str, date | int]:
    """Where a session stands in time: a date, or in a template a weekday. A week begins on the
    weekday on which the programme starts."""
    if programme.starts_on is None:
        return {"weekday": weekday}
    first = programme.starts_on + timedelta(weeks=week - 1)
    return {"day": first + timedelta(days=_since_start(programme, weekday))}


def _since_start(programme: Programme, weekday: int) -> int:
    start = programme.starts_on.weekday() if programme.starts_on else 0
    return (weekday - start) % 7


@transaction.atomic
def add_session(
    *, programme: Programme, seen: int, weekday: int, name: str = "", from_week: int = 1
) -> list[PlannedSession]:
    """One more session in each week from ``from_week`` on, as far as the day is still to come.
    One transaction. Raises Invalid."""
    programme = revise(programme, seen=seen)
    today = today_for(programme)
    position = (programme.sessions.aggregate(last=Max("position"))["last"] or 0) + 1
    if position > MOST_SESSIONS:
        raise Invalid(f"A week holds at most {MOST_SESSIONS} sessions.")
    new = [
        PlannedSession(
            programme=programme,
            week=week,
            position=position,
            name=name.strip(),
            **_in_week(programme, week, weekday),
        )
        for week in range(from_week, programme.weeks + 1)
    ]
    new = [session for session in new if not today or not session.day or session.day >= today]
    if not new:
        raise Invalid("Those days are all past. Choose a later week.")
    return PlannedSession.objects.bulk_create(new)


def _in_week(programme: Programme, week: int, weekday: int) -> dict[str, date | int]:
    """As `dated`, but beside the week's other sessions, which may have been shifted."""
    first = programme.sessions.filter(week=week, day__isnull=False).order_by("day").first()
    usual = dated(programme, week, weekday)
    if first is None or first.day is None or programme.starts_on is None:
        return usual
    begins = first.day - timedelta(days=_since_start(programme, first.day.weekday()))
    return {"day": begins + timedelta(days=_since_start(programme, weekday))}


@transaction.atomic
def move_session(*, programme: Programme, seen: int, session: UUID, day: date) -> PlannedSession:
    """To another day, between the weeks around it. One transaction. Raises Invalid."""
    programme = revise(programme, seen=seen)
    moved = session_of(programme, session)
    if moved.day is None:
        raise Invalid("A template has no dates.")
    today = today_for(programme)
    if today is not None and day < today:
        raise Invalid("That day is past. Choose today or a later one.")
    before = programme.sessions.filter(week__lt=moved.week).order_by("-day").first()
    after = programme.sessions.filter(week__gt=moved.week).order_by("day").first()
    if before and before.day and day < before.day:
        raise Invalid(f"Week {before.week} still trains on {before.day:%a} {before.day.day}.")
    if after and after.day and day > after.day:
        raise Invalid(f"Week {after.week} begins on {after.day:%a} {after.day.day}.")
    moved.day = day
    moved.save(update_fields=["day"])
    return moved


@transaction.atomic
def describe_session(
    *, programme: Programme, seen: int, session: UUID, name: str, note: str
) -> PlannedSession:
    """Its name and the note the athlete reads. One transaction. Raises Invalid."""
    programme = revise(programme, seen=seen)
    described = session_of(programme, session)
    described.name, described.note = name.strip(), note.strip()
    described.save(update_fields=["name", "note"])
    return described


@transaction.atomic
def delete_session(*, programme: Programme, seen: int, session: UUID) -> None:
    """One transaction. Raises Invalid where it is past, or a running correction holds it."""
    programme = revise(programme, seen=seen)
    gone = session_of(programme, session)
    refuse_corrected(gone.prescriptions.all())
    gone.delete()


@transaction.atomic
def delete_week(*, programme: Programme, seen: int, week: int) -> None:
    """The weeks after it move up; their dates stay. One transaction. Raises Invalid."""
    programme = revise(programme, seen=seen)
    if programme.weeks == 1:
        raise Invalid("A programme keeps one week. End it instead.")
    sessions = list(with_training(programme.sessions.filter(week=week)))
    opened(programme, sessions)
    for session in sessions:
        refuse_corrected(session.prescriptions.all())
    programme.sessions.filter(week=week).delete()
    for later in range(week + 1, programme.weeks + 1):  # one by one: a place is held once
        programme.sessions.filter(week=later).update(week=later - 1)
    programme.progressions.filter(from_week__gt=week).update(from_week=F("from_week") - 1)
    Programme.objects.filter(pk=programme.pk).update(weeks=F("weeks") - 1)


@transaction.atomic
def end_programme(*, programme: Programme, seen: int) -> None:
    """Nothing of it is asked for any more; all of it can still be read. One transaction."""
    programme = revise(programme, seen=seen)
    programme.ended_at = timezone.now()
    programme.save(update_fields=["ended_at"])


MOST_DAYS = 365


@transaction.atomic
def shift_sessions(*, programme: Programme, seen: int, from_day: date, days: int) -> int:
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
