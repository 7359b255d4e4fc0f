"""Rows these tests begin with. Wednesday 25 November 2026 is today (see conftest)."""

from datetime import date
from decimal import Decimal
from uuid import UUID

from athletes.models import User
from programming.logs.models import LoggedSession, LoggedSet
from programming.models import Movement
from programming.plans.models import PlannedSession, Prescription, Programme
from programming.plans.services.arrange_sessions import make_programme
from programming.plans.services.write_prescriptions import add_row

TODAY = date(2026, 11, 25)
MONDAY = date(2026, 11, 30)  # the next one


def squat() -> Movement:
    return Movement.objects.get(club=None, name="Low-bar squat")


def bench() -> Movement:
    return Movement.objects.get(club=None, name="Paused bench press")


def a_programme(coach: User, athlete: User | None, **facts: object) -> Programme:
    """Four weeks, Monday and Thursday, from the next Monday."""
    wanted = {"name": "To the meet", "weeks": 4, "weekdays": [0, 3], "starts_on": MONDAY, **facts}
    return make_programme(by=coach, athlete=athlete, club=coach.club, **wanted)


def revision(programme: Programme) -> int:
    return Programme.objects.get(pk=programme.pk).revision


def at(programme: Programme, week: int, position: int = 1) -> PlannedSession:
    return programme.sessions.get(week=week, position=position)


def a_row(programme: Programme, text: str = "3x5 100kg", **facts: object) -> UUID:
    wanted = {"session": at(programme, 1).pk, "movement": squat(), "unit": "kg", **facts}
    return add_row(programme=programme, seen=revision(programme), text=text, **wanted)


def line(programme: Programme, row: UUID, week: int) -> Prescription:
    return Prescription.objects.get(session__programme=programme, row=row, session__week=week)


def loads(programme: Programme, row: UUID) -> list[Decimal | None]:
    lines = Prescription.objects.filter(session__programme=programme, row=row)
    return [one.target for one in lines.order_by("session__week")]


def train(prescription: Prescription) -> LoggedSet:
    session = prescription.session
    assert session.programme.athlete is not None
    log = LoggedSession.objects.create(
        athlete=session.programme.athlete, day=session.day, planned=session
    )
    return LoggedSet.objects.create(
        session=log,
        prescription=prescription,
        movement=prescription.movement,
        load_kg=prescription.target,
        reps=prescription.reps,
    )
