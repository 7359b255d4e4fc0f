"""Copying a week or a session. What a copy would be is worked out first, so that it can be shown
dashed before it is placed; placing it writes the same."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal
from uuid import UUID, uuid4

from django.db import transaction
from django.db.models import Max, Prefetch, QuerySet

from coachdesk.common.errors import Invalid
from coachdesk.common.units import from_kg, to_kg
from programming.plans.models import PlannedSession, Prescription, Programme, TargetKind
from programming.plans.running_corrections import with_corrections
from programming.plans.services.arrange_sessions import MOST_SESSIONS, MOST_WEEKS
from programming.plans.services.lock_programme import opened, revise, today_for, with_training

# What a line says, without where it stands and without what a correction did to it.
SAME = ("row", "position", "movement_id", "sets", "reps", "target_kind", "target", "unit",
        "cap_percent", "held", "tempo", "rest_seconds", "note")  # fmt: skip


@dataclass
class Copied:
    """One session of the copy: unsaved lines, and the session that takes them, saved or not.
    ``kept``: rows that a running correction holds there, which stay as they are."""

    session: PlannedSession
    lines: list[Prescription]
    kept: set[UUID]


def copied_week(
    programme: Programme, week: int, to_week: int, *, add: Decimal = Decimal(0), unit: str = "kg"
) -> list[Copied]:
    """What week ``to_week`` would hold. Loads in kg or lb go up by ``add``, capped ones do not.
    Raises Invalid where that week is past, trained or out of reach."""
    if not 1 <= to_week <= min(programme.weeks + 1, MOST_WEEKS) or to_week == week:
        raise Invalid("Copy to another week of the programme, or to a new one at its end.")
    sessions = list(_with_lines(programme, week))
    if not any(session.prescriptions.all() for session in sessions):
        raise Invalid("That week is empty: there is nothing to copy.")
    there = {session.position: session for session in _with_lines(programme, to_week)}
    opened(programme, there.values())
    return [
        _copied(
            source, there.get(source.position) or _placed(programme, source, to_week), add, unit
        )
        for source in sessions
    ]


@transaction.atomic
def copy_week(
    *,
    programme: Programme,
    seen: int,
    week: int,
    to_week: int,
    add: Decimal = Decimal(0),
    unit: str = "kg",
) -> None:
    """Place what `copied_week` shows. One transaction. Raises Invalid."""
    programme = revise(programme, seen=seen)
    copies = copied_week(programme, week, to_week, add=add, unit=unit)
    if to_week > programme.weeks:
        Programme.objects.filter(pk=programme.pk).update(weeks=to_week)
    for copy in copies:
        _place(copy)


@transaction.atomic
def copy_session(*, programme: Programme, seen: int, session: UUID, day: date) -> PlannedSession:
    """The same session once more on ``day``. One transaction. Raises Invalid."""
    programme = revise(programme, seen=seen)
    source = _with_lines(programme).filter(pk=session).first()
    if source is None or source.day is None:
        raise Invalid("That session is not in the programme any more.")
    today = today_for(programme)
    if today is not None and day < today:
        raise Invalid("That day is past. Choose today or a later one.")
    week = _week_of(programme, day)
    free = not programme.sessions.filter(week=week, position=source.position).exists()
    position = source.position if free else _next_position(programme)
    new = PlannedSession(
        programme=programme,
        week=week,
        position=position,
        name=source.name,
        note=source.note,
        day=day,
    )
    copy = _copied(source, new, Decimal(0), "kg")
    if not free:
        for line in copy.lines:  # another line of the grid: the same row stands in that week
            line.row = uuid4()
    _place(copy)
    return new


def _with_lines(programme: Programme, week: int | None = None) -> QuerySet[PlannedSession]:
    sessions = programme.sessions.all() if week is None else programme.sessions.filter(week=week)
    lines = with_corrections(Prescription.objects.select_related("movement"))
    return with_training(sessions).prefetch_related(Prefetch("prescriptions", queryset=lines))


def _copied(source: PlannedSession, target: PlannedSession, add: Decimal, unit: str) -> Copied:
    held = (
        _held_rows(target.prescriptions.all()) if target.pk and not target._state.adding else set()
    )
    lines = []
    for line in source.prescriptions.all():
        if line.row in held:
            continue
        copy = Prescription(**{name: getattr(line, name) for name in SAME})
        copy.movement = line.movement
        copy.target = raised(line, add, unit)
        lines.append(copy)
    return Copied(target, lines, held)


def _held_rows(lines: Iterable[Prescription]) -> set[UUID]:
    return {line.row for line in lines if line.running}


def raised(line: Prescription, add: Decimal, unit: str) -> Decimal | None:
    """The copy's target: a load goes up by ``add`` of ``unit``, unless it is capped."""
    if line.target is None or line.target_kind != TargetKind.KG or line.cap_percent is not None:
        return line.target
    return (
        max(to_kg(from_kg(line.target, unit) + add, unit), Decimal("0.01")) if add else line.target
    )


def _placed(programme: Programme, source: PlannedSession, to_week: int) -> PlannedSession:
    """A new session in ``to_week``, on the weekday that this place of the week last had."""
    new = PlannedSession(
        programme=programme,
        week=to_week,
        position=source.position,
        name=source.name,
        note=source.note,
        weekday=source.weekday,
    )
    if source.day is not None:
        alike = programme.sessions.filter(position=source.position, day__isnull=False)
        near = min(alike, key=lambda one: (abs(one.week - to_week), one.week))
        assert near.day is not None
        new.day = near.day + timedelta(weeks=to_week - near.week)
        today = today_for(programme)
        if today is not None and new.day < today:
            raise Invalid("That week is past. Copy to a later one.")
    return new


def _place(copy: Copied) -> None:
    if copy.session._state.adding:
        copy.session.save()
    else:
        copy.session.prescriptions.exclude(row__in=copy.kept).delete()
    for line in copy.lines:
        line.session = copy.session
    Prescription.objects.bulk_create(copy.lines)


def _week_of(programme: Programme, day: date) -> int:
    """The first week that is not over by then; after the last session, the last week."""
    ends = (
        programme.sessions.filter(day__isnull=False)
        .values_list("week")
        .annotate(last=Max("day"))
        .order_by("week")
    )
    return next((week for week, last in ends if day <= last), programme.weeks)


def _next_position(programme: Programme) -> int:
    position = (programme.sessions.aggregate(last=Max("position"))["last"] or 0) + 1
    if position > MOST_SESSIONS:
        raise Invalid(f"A week holds at most {MOST_SESSIONS} sessions.")
    return position
