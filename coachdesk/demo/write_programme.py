"""A template of the club, two programmes made from it that run now, and plates that were told.

The template's waves and steps are common practice, no source.
"""

from datetime import timedelta
from decimal import Decimal
from uuid import UUID

from athletes.local_time import today_of
from athletes.models import User
from programming.logs.models import MaxKind
from programming.logs.services.set_max import set_max
from programming.models import Movement
from programming.plans.models import PlannedSession, Programme
from programming.plans.plates import read_pairs
from programming.plans.services.arrange_sessions import describe_session, make_programme
from programming.plans.services.save_template import make_from_template
from programming.plans.services.set_plates import set_plates
from programming.plans.services.set_progression import Wanted, set_rule
from programming.plans.services.write_prescriptions import add_row

WEEKS = 4
EASY_FOURTH = 4
# Session name, weekday (0 is Monday), lines: movement, dose of the first week, step a week.
SESSIONS = (
    ("Squat", 0, (("Low-bar squat", "4x4 @ 78% rest 3min", "2.5"),
                  ("Pause squat", "3x3 @7", "0.5"), ("Barbell row", "3x10 2rir", None))),
    ("Bench", 2, (("Paused bench press", "5x4 @ 76% best rest 2:30", "2.5"),
                  ("Close-grip bench press", "3x8 @7 tempo 3-1-x", None))),
    ("Deadlift", 4, (("Conventional deadlift", "4x3 @ 80% best rest 3:30", "2.5"),
                     ("Romanian deadlift", "3x8 80kg", "2.5"), ("Overhead press", "4x6 @8", None))),
)  # fmt: skip
# Tested maxes; Greta's technical squat is open until one is lifted to standard.
TESTED = {
    "emeka": (("Low-bar squat", MaxKind.TECHNICAL, "160"),
              ("Paused bench press", MaxKind.BEST, "115"),
              ("Conventional deadlift", MaxKind.BEST, "195")),
    "greta": (("Paused bench press", MaxKind.BEST, "62.5"),
              ("Conventional deadlift", MaxKind.BEST, "125")),
}  # fmt: skip
PLATES = {
    "saoirse": ("kg", "20", "25x2, 20x2, 15x1, 10x1, 5x2, 2.5x1, 1.25x1"),
    "tariq": ("lb", "45", "45x4, 25x1, 10x2, 5x1, 2.5x1"),
}


def plan(people: dict[str, User], coach: User) -> None:
    """The template, its two programmes, the plates. Belongs inside a transaction."""
    template = _template(coach)
    for key in ("emeka", "greta"):
        athlete = people[key]
        today = today_of(athlete)
        make_from_template(
            by=coach,
            template=template,
            athlete=athlete,
            starts_on=today - timedelta(days=today.weekday()),
            name="To a heavy triple",
        )
        for movement, kind, kg in TESTED[key]:
            set_max(
                by=coach,
                athlete=athlete,
                movement=Movement.objects.get(club=None, name=movement),
                kind=kind,
                kg=Decimal(kg),
                day=today - timedelta(days=10),
                reason="Tested at the end of the last block",
            )
    for key, (unit, bar, pairs) in PLATES.items():
        set_plates(athlete=people[key], unit=unit, bar=Decimal(bar), pairs=read_pairs(pairs))


def _template(coach: User) -> Programme:
    made = make_programme(
        by=coach,
        athlete=None,
        club=coach.club,
        name="Four weeks to a heavy triple",
        weeks=WEEKS,
        weekdays=[weekday for _, weekday, _ in SESSIONS],
    )
    for name, weekday, lines in SESSIONS:
        for session in made.sessions.filter(weekday=weekday):
            describe_session(
                programme=made, seen=_seen(made), session=session.pk, name=name, note=""
            )
        first = made.sessions.get(week=1, weekday=weekday)
        for movement, dose, step in lines:
            _line(made, first, movement, dose, step)
    return made


def _line(
    made: Programme, first: PlannedSession, movement: str, dose: str, step: str | None
) -> UUID:
    row = add_row(
        programme=made,
        seen=_seen(made),
        session=first.pk,
        movement=Movement.objects.get(club=None, name=movement),
        text=dose,
        unit="kg",
    )
    if step:
        wanted = Wanted(1, "amount", Decimal(step), deload_every=EASY_FOURTH)
        set_rule(programme=made, seen=_seen(made), row=row, wanted=wanted)
    return row


def _seen(programme: Programme) -> int:
    return Programme.objects.values_list("revision", flat=True).get(pk=programme.pk)
