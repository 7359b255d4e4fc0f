"""Some weeks of training in the log, summed up."""

from datetime import date, timedelta
from decimal import Decimal

from athletes.models import User
from programming.logs.models import LoggedSession, LoggedSet
from programming.logs.services.summarize_days import rebuild_summaries
from programming.models import Movement


def a_session(
    athlete: User, day: date, rpe: str | None = "7", minutes: int | None = 60
) -> LoggedSession:
    return LoggedSession.objects.create(
        athlete=athlete, day=day, session_rpe=rpe and Decimal(rpe), minutes=minutes
    )


def a_set(session: LoggedSession, kg: str | None, reps: int = 5, rpe: str | None = "8", **facts):
    movement = facts.pop("movement", None) or squat()
    return LoggedSet.objects.create(
        session=session, movement=movement, load_kg=kg and Decimal(kg), reps=reps,
        rpe=rpe and Decimal(rpe), **facts,
    )  # fmt: skip


def squat() -> Movement:
    # Not get(): a live server's test begins on an emptied database, shipped rows included.
    return Movement.objects.get_or_create(
        club=None, name="Low-bar squat", defaults={"family": "squat"}
    )[0]


def weeks_of_training(athlete: User, last: date, weeks: int = 13) -> None:
    """Three sessions a week; one without RPE, and two weeks of silence in the middle."""
    monday = last - timedelta(days=last.weekday())
    for back in range(weeks):
        if back in {5, 6}:
            continue
        for number, offset in enumerate((0, 2, 4)):
            day = monday - timedelta(weeks=back) + timedelta(days=offset)
            if day > last:
                continue
            unknown = back == 2 and number == 1
            session = a_session(
                athlete, day, None if unknown else str(6 + (back + number) % 4), 50 + 9 * number
            )
            for _ in range(4):
                a_set(session, str(100 + 5 * number + back), reps=5)
    rebuild_summaries([athlete.pk])
