"""Sessions and sets as a phone would send them."""

from datetime import UTC, date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid4

from athletes.models import User
from programming.logs.models import LoggedSession, LoggedSet
from programming.logs.services.log_session import put_session
from programming.logs.services.log_set import put_set
from programming.models import Movement, PlannedSession, Prescription, Programme

NOON = datetime(2026, 11, 23, 12, tzinfo=UTC)


def movement(name: str = "Low-bar squat") -> Movement:
    return Movement.objects.get(club=None, name=name)


def session_data(revision: int = 1, **facts: Any) -> dict[str, Any]:
    """What `put_session` takes."""
    return {"revision": revision, "started_at": NOON, **facts}


def set_data(revision: int = 1, **facts: Any) -> dict[str, Any]:
    """What `put_set` takes."""
    usual = {
        "revision": revision,
        "movement": movement().pk,
        "load": Decimal(140),
        "reps": 3,
        "rpe": Decimal("7.5"),
        "done_at": NOON,
    }
    return {**usual, **facts}


def a_session(athlete: User, session_id: UUID | None = None, **facts: Any) -> LoggedSession:
    return put_session(athlete=athlete, session_id=session_id or uuid4(), **session_data(**facts))


def a_set(session: LoggedSession, set_id: UUID | None = None, **facts: Any) -> LoggedSet:
    facts.setdefault("position", session.sets.count() + 1)
    return put_set(
        athlete=session.athlete,
        session_id=session.pk,
        set_id=set_id or uuid4(),
        **set_data(**facts),
    )


def a_plan(
    athlete: User, day: date, lines: tuple[tuple[str, int, int, str], ...] = ()
) -> PlannedSession:
    """A programme of one week with one session; lines are (movement, sets, reps, kg)."""
    programme = Programme.objects.create(
        club=athlete.club, athlete=athlete, name="Base", starts_on=day, weeks=1
    )
    session = PlannedSession.objects.create(
        programme=programme, week=1, position=1, name="Squat and bench", day=day
    )
    for position, (name, sets, reps, kg) in enumerate(lines, 1):
        Prescription.objects.create(
            session=session,
            position=position,
            movement=movement(name),
            sets=sets,
            reps=reps,
            target_kind="kg" if kg else "",
            target=Decimal(kg) if kg else None,
            rest_seconds=180,
        )
    return session
