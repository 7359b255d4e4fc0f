"""A programme to correct: two weeks, squat on Monday and Thursday, bench between."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from athletes.models import User
from programming.corrections.preview import Preview, preview
from programming.corrections.requests import Wish
from programming.corrections.services.apply_correction import apply
from programming.corrections.snapshots import snapshot
from programming.logs.models import LoggedSession, LoggedSet
from programming.movements.models import Movement
from programming.plans.models import PlannedSession, Prescription, Programme
from programming.plans.models.correction import Correction, Kind

MONDAY = date(2026, 11, 30)
TODAY = MONDAY


def movement(name: str = "Low-bar squat") -> Movement:
    return Movement.objects.get(name=name, club=None)


def programme(athlete: User, starts_on: date = MONDAY, weeks: int = 2) -> Programme:
    made = Programme.objects.create(
        club=athlete.club, athlete=athlete, name="Base", starts_on=starts_on, weeks=weeks
    )
    squat, bench = movement(), movement("Paused bench press")
    for week in range(weeks):
        monday = starts_on + timedelta(weeks=week)
        for place, (days, lines) in enumerate(
            [
                (0, [(squat, 3, 3, "kg", 150 + 5 * week), (bench, 3, 5, "kg", 90)]),
                (2, [(bench, 5, 3, "kg", 95)]),
                (3, [(squat, 4, 5, "technical", 80)]),
            ],
            start=1,
        ):
            session = PlannedSession.objects.create(
                programme=made, week=week + 1, position=place, day=monday + timedelta(days=days)
            )
            for position, (lift, sets, reps, kind, target) in enumerate(lines, start=1):
                Prescription.objects.create(
                    session=session,
                    position=position,
                    movement=lift,
                    sets=sets,
                    reps=reps,
                    target_kind=kind,
                    target=Decimal(target),
                )
    return made


def wish(kind: Kind, **more: Any) -> Wish:
    given = {"movement": movement(), "until": MONDAY + timedelta(weeks=8), **more}
    return Wish(kind=kind, **given)


def look(athlete: User, wanted: Wish) -> Preview:
    return preview(athlete, wanted, today=TODAY)


def applied(coach: User, athlete: User, wanted: Wish, **more: Any) -> Correction:
    seal = look(athlete, wanted).seal
    return apply(coach=coach, athlete=athlete, wish=wanted, today=TODAY, seal=seal, **more)


def written(made: Programme) -> list[tuple[date | None, int, dict[str, Any]]]:
    """The whole programme as values: two that are equal here are equal to the athlete."""
    lines = Prescription.objects.filter(session__programme=made).select_related("session")
    lines = lines.order_by("session__day", "position", "pk")
    return [(line.session.day, line.position, snapshot(line)) for line in lines]


def squats(made: Programme) -> list[Prescription]:
    lines = Prescription.objects.filter(session__programme=made, movement__family="squat")
    return list(lines.order_by("session__day", "position"))


def train(prescription: Prescription) -> LoggedSet:
    """Log one set of it, on the day it was planned for."""
    session = prescription.session
    done = LoggedSession.objects.create(
        athlete=session.programme.athlete, day=session.day, planned=session
    )
    return LoggedSet.objects.create(
        session=done,
        prescription=prescription,
        movement=prescription.movement,
        load_kg=Decimal(140),
        reps=3,
    )
