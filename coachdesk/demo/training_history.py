"""Twelve weeks of training for two athletes: a programme, and what was lifted of it.

Made by rule and by a random source that begins the same way each time, so that every demo of one
day is the same. With what real logs have: a session nobody did, missed reps, efforts left out, a
week without a rating, body weights now and then.
"""

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from random import Random
from uuid import UUID, uuid5

from athletes.local_time import today_of
from athletes.models import User
from coachdesk.common.units import to_kg
from programming.logs.services import refresh_maxes, summarize_days
from programming.models import (
    BodyWeight,
    LoggedSession,
    LoggedSet,
    Movement,
    PlannedSession,
    Prescription,
    Programme,
)

WEEKS_PAST, WEEKS_COMING = 11, 2
SPACE = UUID("5d0f3f2e-6f0a-4c55-9f0e-0c5b6f2a7d10")  # the demo's own ids are derived from it
# Share of what the athlete can lift, week by week: three rise, the fourth is lighter (common
# practice, no source).
WAVE = (0.74, 0.775, 0.81, 0.68)
# (name, days after the week's first session, (movement, sets, reps, share, rest) each)
SQUAT, BENCH, PULL = "Low-bar squat", "Paused bench press", "Conventional deadlift"
SESSIONS = (
    ("Squat and bench", 0, ((SQUAT, 4, 4, 1.0, 180), (BENCH, 4, 5, 0.96, 150),
                            ("Barbell row", 3, 8, 1.0, 90))),
    ("Deadlift", 2, ((PULL, 3, 3, 1.04, 210), ("Pause squat", 3, 3, 1.0, 150),
                     ("Barbell row", 3, 8, 1.0, 90))),
    ("Bench and squat", 4, ((BENCH, 5, 3, 1.04, 150), (SQUAT, 3, 5, 0.92, 180))),
)  # fmt: skip


@dataclass(frozen=True)
class Trainee:
    """Bests in the athlete's own unit; ``step``: the smallest jump of the bar."""

    key: str
    bests: dict[str, float]
    step: float
    body: float
    unrated_week: int  # counted from the first
    skipped: tuple[int, int]  # week and session that nobody did


TRAINEES = (
    Trainee("saoirse", {SQUAT: 170, BENCH: 92.5, "Barbell row": 85, PULL: 190, "Pause squat": 145},
            2.5, 78.4, 6, (4, 2)),
    Trainee("tariq", {SQUAT: 405, BENCH: 275, "Barbell row": 225, PULL: 475, "Pause squat": 335},
            5, 203, 8, (2, 1)),
)  # fmt: skip


def train(people: dict[str, User], coach: User) -> None:
    """The programmes and logs of everybody in ``TRAINEES``. Belongs inside a transaction."""
    movements = {one.name: one for one in Movement.objects.filter(club=None)}
    for trainee in TRAINEES:
        athlete = people[trainee.key]
        _Past(trainee, athlete, coach, movements).write()
        refresh_maxes.rebuild_maxes(athlete=athlete)
        summarize_days.rebuild_summaries([athlete.pk])


class _Past:
    """One athlete's rows, gathered and then written in a few statements."""

    def __init__(
        self, who: Trainee, athlete: User, coach: User, movements: dict[str, Movement]
    ) -> None:
        self.who, self.athlete, self.movements = who, athlete, movements
        self.chance = Random(who.key)
        self.today = today_of(athlete)
        # A session falls on today, whatever day the demo is opened.
        self.first = self.today - timedelta(weeks=WEEKS_PAST)
        self.programme = Programme(
            club=athlete.club,
            athlete=athlete,
            name="Winter block",
            starts_on=self.first,
            weeks=WEEKS_PAST + WEEKS_COMING,
            made_by=coach,
        )
        self.planned: list[PlannedSession] = []
        self.lines: list[Prescription] = []
        self.sessions: list[LoggedSession] = []
        self.sets: list[LoggedSet] = []

    def write(self) -> None:
        for week in range(WEEKS_PAST + WEEKS_COMING):
            for place in range(len(SESSIONS)):
                self._session(week, place)
        self.programme.save()
        PlannedSession.objects.bulk_create(self.planned)
        Prescription.objects.bulk_create(self.lines)
        LoggedSession.objects.bulk_create(self.sessions)
        LoggedSet.objects.bulk_create(self.sets)
        BodyWeight.objects.bulk_create(self._weights())

    def _session(self, week: int, place: int) -> None:
        name, after, work = SESSIONS[place]
        day = self.first + timedelta(weeks=week, days=after)
        planned = PlannedSession(
            programme=self.programme, week=week + 1, position=place + 1, name=name, day=day
        )
        self.planned.append(planned)
        lines = [self._line(planned, n, week, *facts) for n, facts in enumerate(work, 1)]
        self.lines += lines
        if day < self.today and (week, place) != self.who.skipped:
            self._trained(planned, day, week, lines)

    def _line(
        self, planned: PlannedSession, n: int, week: int, name: str, sets: int, reps: int,
        share: float, rest: int,
    ) -> Prescription:  # fmt: skip
        wanted = self.who.bests[name] * WAVE[week % len(WAVE)] * share * (1 + 0.004 * week)
        load = round(wanted / self.who.step) * self.who.step
        return Prescription(
            session=planned,
            row=uuid5(SPACE, f"{self.who.key} {planned.position} {n}"),
            position=n,
            movement=self.movements[name],
            sets=sets,
            reps=reps,
            target_kind="kg",
            target=to_kg(Decimal(str(load)), self.athlete.unit),
            unit=self.athlete.unit,
            rest_seconds=rest,
        )

    def _trained(
        self, planned: PlannedSession, day: date, week: int, lines: list[Prescription]
    ) -> None:
        start = datetime(day.year, day.month, day.day, 17, self.chance.randrange(60), tzinfo=UTC)
        hard = WAVE[week % len(WAVE)]
        minutes = self.chance.randrange(58, 86)
        rated = week != self.who.unrated_week and self.chance.random() > 0.04
        effort = round((hard - 0.45) * 18 + self.chance.choice([-1, 0, 0, 1]))
        session = LoggedSession(
            id=uuid5(SPACE, f"{self.who.key} {day}"),
            athlete=self.athlete,
            day=day,
            planned=planned,
            session_rpe=Decimal(max(3, min(9, effort))) if rated else None,
            minutes=minutes if rated or self.chance.random() > 0.5 else None,
            started_at=start,
            finished_at=start + timedelta(minutes=minutes),
        )
        self.sessions.append(session)
        number = sum(line.sets for line in lines)
        moments = (start + timedelta(minutes=minutes * n / number) for n in range(number))
        for line in lines:
            for n in range(line.sets):
                self._set(session, line, n, hard, next(moments))

    def _set(
        self, session: LoggedSession, line: Prescription, n: int, hard: float, done_at: datetime
    ) -> None:
        rpe = 6 + (hard - 0.7) * 18 + n * 0.4 + self.chance.choice([-0.5, 0, 0, 0.5])
        missed = int(rpe > 8.6 and self.chance.random() < 0.25)
        told = self.chance.random() > 0.12
        felt = round(max(5.0, min(10.0, rpe + missed)) * 2) / 2
        self.sets.append(
            LoggedSet(
                id=uuid5(session.id, str(len(self.sets))),
                session=session,
                prescription=line,
                movement=line.movement,
                position=sum(one.session is session for one in self.sets) + 1,
                load_kg=line.target,
                load_unit=line.unit,
                reps=line.reps - missed,
                missed_reps=missed,
                rpe=Decimal(str(felt)) if told else None,
                note="Hips went first." if missed and "squat" in line.movement.name else "",
                done_at=done_at,
            )
        )

    def _weights(self) -> list[BodyWeight]:
        """Two or three mornings a week, drifting slowly."""
        weights = []
        for days in range((self.today - self.first).days):
            if self.chance.random() < 0.35:
                value = self.who.body * (1 + days * 0.0002) + self.chance.gauss(0, 0.4)
                kg = to_kg(Decimal(str(round(value, 1))), self.athlete.unit)
                weights.append(
                    BodyWeight(athlete=self.athlete, day=self.first + timedelta(days), kg=kg)
                )
        return weights
