"""Sessions and sets as a phone would send them."""

from datetime import UTC, date, datetime
from decimal import Decimal
from uuid import UUID, uuid4

from athletes.models import User
from programming.logs.lifting import put_set
from programming.logs.models import LoggedSession, LoggedSet
from programming.logs.told import ToldSession, ToldSet
from programming.logs.training import put_session
from programming.models import Movement, PlannedSession, Prescription, Programme

NOON = datetime(2026, 11, 23, 12, tzinfo=UTC)


def movement(name: str = "Low-bar squat") -> Movement:
    return Movement.objects.get(club=None, name=name)


def told_session(revision: int = 1, **facts: object) -> ToldSession:
    return ToldSession(**{"revision": revision, "started_at": NOON, **facts})  # type: ignore[arg-type]


def told_set(revision: int = 1, **facts: object) -> ToldSet:
    usual = {
        "revision": revision,
        "movement": movement().pk,
        "load": Decimal(140),
        "reps": 3,
        "rpe": Decimal("7.5"),
        "done_at": NOON,
    }
    return ToldSet(**{**usual, **facts})  # type: ignore[arg-type]


def a_session(athlete: User, session_id: UUID | None = None, **facts: object) -> LoggedSession:
    told = told_session(**facts)  # type: ignore[arg-type]
    return put_session(athlete=athlete, session_id=session_id or uuid4(), told=told)


def a_set(session: LoggedSession, set_id: UUID | None = None, **facts: object) -> LoggedSet:
    facts.setdefault("position", session.sets.count() + 1)
    return put_set(
        athlete=session.athlete,
        session_id=session.pk,
        set_id=set_id or uuid4(),
        told=told_set(**facts),  # type: ignore[arg-type]
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
