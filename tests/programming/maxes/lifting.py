"""Sets and verdicts these tests begin with."""

from datetime import date, timedelta
from decimal import Decimal
from uuid import uuid4

from athletes.models import User
from programming.models import LoggedSession, LoggedSet, Movement, SetVerdict

MONDAY = date(2026, 11, 2)


def day(offset: int) -> date:
    return MONDAY + timedelta(days=offset)


def squat() -> Movement:
    return Movement.objects.get(club=None, name="Low-bar squat")


def lifted(
    athlete: User,
    on: date,
    load: str,
    reps: int,
    rpe: str | None = None,
    *,
    movement: Movement | None = None,
    missed: int = 0,
) -> LoggedSet:
    """One set in a session of its own."""
    session = LoggedSession.objects.create(athlete=athlete, day=on)
    return LoggedSet.objects.create(
        session=session,
        movement=movement or squat(),
        load_kg=Decimal(load),
        reps=reps,
        rpe=None if rpe is None else Decimal(rpe),
        missed_reps=missed,
    )


def judged(
    athlete: User,
    on: date,
    load: str,
    calls: str,
    rpe: str | None = None,
    *,
    movement: Movement | None = None,
    logged: LoggedSet | None = None,
    reps: int | None = None,
) -> SetVerdict:
    """A filmed set; ``calls`` has a letter a rep: s(tandard), n(ot), c(annot tell), - (no call)."""
    return SetVerdict.objects.create(
        source=uuid4(),
        athlete=athlete,
        movement=movement or squat(),
        day=on,
        load_kg=Decimal(load),
        reps=reps or len(calls),
        rpe=None if rpe is None else Decimal(rpe),
        to_standard=calls.count("s"),
        not_to_standard=calls.count("n"),
        cannot_tell=calls.count("c"),
        logged_set=logged,
    )
