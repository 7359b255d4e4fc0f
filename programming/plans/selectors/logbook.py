"""A stretch of an athlete's log by weeks: what was prescribed beside what was done."""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import Any

from django.db.models import Max, Min, Prefetch

from athletes.models import User
from athletes.permissions import people_visible_to
from programming.logs.models import LoggedSession, LoggedSet
from programming.permissions import logged_sessions_visible_to
from programming.plans.models import PlannedSession, Prescription

WEEKS_A_PAGE = 4


@dataclass
class Row:
    """One movement of a session: the line that was asked for, if any, and the sets done."""

    movement: Any
    line: Prescription | None = None
    sets: list[LoggedSet] = field(default_factory=list)

    @property
    def not_done(self) -> int:
        """Sets that were asked for and not done; a line that was held asked for none."""
        asked = 0 if self.line is None or self.line.held else self.line.sets
        return max(0, asked - len(self.sets))


@dataclass
class Entry:
    """A day's session: logged, or planned and not trained."""

    day: date
    session: LoggedSession | None
    planned: PlannedSession | None
    rows: list[Row]

    @property
    def name(self) -> str:
        return str(self.planned) if self.planned else "Beside the plan"

    @property
    def is_gap(self) -> bool:
        """Trained, but its load is not known: RPE or minutes are missing."""
        done = self.session
        return done is not None and (done.session_rpe is None or done.minutes is None)


@dataclass
class Week:
    monday: date
    entries: list[Entry]

    @property
    def sunday(self) -> date:
        return self.monday + timedelta(days=6)


def monday_of(day: date) -> date:
    """Weeks begin on Monday (ISO 8601)."""
    return day - timedelta(days=day.weekday())


def logged_weeks(*, reader: User, athlete: User, until: date) -> list[Week]:
    """The week of ``until`` and the three before it, newest first. Five statements."""
    last = monday_of(until) + timedelta(days=6)
    first = monday_of(until) - timedelta(weeks=WEEKS_A_PAGE - 1)
    sets = LoggedSet.objects.select_related("movement").order_by("position", "done_at")
    lines = Prescription.objects.select_related("movement").order_by("position")
    logged = list(
        logged_sessions_visible_to(reader)
        .filter(athlete=athlete, day__range=(first, last))
        .select_related("planned")
        .prefetch_related(
            Prefetch("sets", queryset=sets), Prefetch("planned__prescriptions", queryset=lines)
        )
    )
    missed = (
        PlannedSession.objects.filter(
            programme__athlete__in=people_visible_to(reader).filter(pk=athlete.pk),
            day__range=(first, min(last, until)),
            logged=None,
        )
        .exclude(programme__ended_at__isnull=False)
        .prefetch_related(Prefetch("prescriptions", queryset=lines))
    )
    entries = [*map(_trained, logged), *map(_untrained, missed)]
    entries.sort(key=lambda one: (one.day, one.session is None), reverse=True)
    weeks = [first + timedelta(weeks=n) for n in reversed(range(WEEKS_A_PAGE))]
    return [Week(monday, [one for one in entries if monday_of(one.day) == monday])
            for monday in weeks]  # fmt: skip


def ends_of(*, reader: User, athlete: User) -> tuple[date, date] | None:
    """The first and last day of the log; none where it is empty."""
    mine = logged_sessions_visible_to(reader).filter(athlete=athlete)
    found = mine.order_by().aggregate(first=Min("day"), last=Max("day"))
    return None if found["first"] is None else (found["first"], found["last"])


def _trained(session: LoggedSession) -> Entry:
    lines = list(session.planned.prescriptions.all()) if session.planned else []
    return Entry(session.day, session, session.planned, _rows(lines, session.sets.all()))


def _untrained(planned: PlannedSession) -> Entry:
    assert planned.day is not None  # asked for by its day
    return Entry(planned.day, None, planned, _rows(planned.prescriptions.all(), []))


def _rows(lines: Iterable[Prescription], sets: Iterable[LoggedSet]) -> list[Row]:
    """The planned lines in their order, then what was lifted beside them."""
    rows = {line.pk: Row(line.movement, line) for line in lines}
    beside: dict[int, Row] = {}
    for one in sets:
        row = rows.get(one.prescription_id) if one.prescription_id else None
        row = row or beside.setdefault(one.movement_id, Row(one.movement))
        row.sets.append(one)
    return [*rows.values(), *beside.values()]
