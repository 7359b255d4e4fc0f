"""Writing prescriptions: a cell of the grid, a new row, another movement for a row."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from uuid import UUID, uuid4

from django.db import transaction
from django.db.models import Max

from coachdesk.common.errors import Invalid
from programming.movements.models import Movement
from programming.plans.models import PlannedSession, Prescription, Programme
from programming.plans.notation import Dose, read
from programming.plans.running_corrections import lowest_cap, refuse_corrected, with_corrections
from programming.plans.services.lock_programme import (
    revise,
    session_of,
    today_for,
    why_closed,
    with_training,
)
from programming.plans.services.set_progression import follow

MOST_LINES = 30  # a session


@dataclass(frozen=True)
class Cell:
    """What is to stand in one place of the grid; empty text clears it. ``note`` None: as it is."""

    session: UUID
    row: UUID
    text: str
    note: str | None = None


@dataclass
class Written:
    """``revision`` afterwards, what else changed with it, and what was refused, cell by cell."""

    programme: Programme
    refused: dict[tuple[UUID, UUID], str] = field(default_factory=dict)


@transaction.atomic
def write_cells(*, programme: Programme, seen: int, cells: Sequence[Cell], unit: str) -> Written:
    """Each cell that can be read and may be changed; the others are named with the reason, and
    stay as they were. ``unit`` is what a bare number means. One transaction. Raises Conflict."""
    programme = revise(programme, seen=seen)
    written = Written(programme)
    for cell in cells:
        try:
            with transaction.atomic():
                _write(programme, cell, unit)
        except Invalid as refusal:
            written.refused[cell.session, cell.row] = str(refusal)
    return written


def _write(programme: Programme, cell: Cell, unit: str) -> None:
    session = session_of(programme, cell.session)
    line = with_corrections(session.prescriptions.filter(row=cell.row)).first()
    if not cell.text.strip():
        if line is not None:
            refuse_corrected(session.prescriptions.filter(pk=line.pk))
            line.delete()
        return
    dose = read(cell.text, unit)
    before = Prescription(target_kind=line.target_kind, target=line.target) if line else None
    line = line or _new_line(programme, session, cell.row)
    _dose(line, dose)
    if cell.note is not None:
        line.note = cell.note.strip()[:300]
    line.save()
    if before is not None:
        follow(programme, cell.row, session.week, before)


def _dose(line: Prescription, dose: Dose) -> None:
    cap = lowest_cap(line, dose.cap_percent)
    line.sets, line.reps = dose.sets, dose.reps
    line.target_kind, line.target, line.unit = dose.kind, dose.target, dose.unit
    line.cap_percent, line.tempo, line.rest_seconds = cap, dose.tempo, dose.rest_seconds
    if not line.running:
        line.held = False  # written again: it is back


def _new_line(programme: Programme, session: PlannedSession, row: UUID) -> Prescription:
    """The same line as in the nearest other week: its movement and its place."""
    alike = Prescription.objects.filter(session__programme=programme, row=row)
    like = alike.order_by("-session__week").first()
    if like is None:
        raise Invalid("That line is not in the programme any more. Add the movement again.")
    line = Prescription(
        session=session, row=row, movement_id=like.movement_id, position=like.position
    )
    line.running = []
    return line


@transaction.atomic
def add_row(
    *,
    programme: Programme,
    seen: int,
    session: UUID,
    movement: Movement,
    text: str,
    unit: str,
    every_week: bool = True,
) -> UUID:
    """A movement at the end of a session, and of the same session of the weeks after it; gives
    the row. One transaction. Raises Invalid."""
    programme = revise(programme, seen=seen)
    first = session_of(programme, session)
    dose = read(text, unit)
    sessions = [first]
    if every_week:
        later = programme.sessions.filter(week__gt=first.week, position=first.position)
        today = today_for(programme)
        sessions += [one for one in with_training(later) if not why_closed(one, today)]
    row, new = uuid4(), []
    last = dict(
        Prescription.objects.filter(session__in=sessions)
        .values_list("session")
        .annotate(last=Max("position"))
    )
    for one in sessions:
        place = last.get(one.pk, 0) + 1
        if place > MOST_LINES:
            raise Invalid(f"A session holds at most {MOST_LINES} lines.")
        line = Prescription(session=one, row=row, movement=movement, position=place)
        line.running = []
        _dose(line, dose)
        new.append(line)
    Prescription.objects.bulk_create(new)
    return row


@transaction.atomic
def change_movement(
    *, programme: Programme, seen: int, row: UUID, movement: Movement, session: UUID
) -> int:
    """Another movement on this line from ``session`` on; how many cells changed. One transaction.
    Raises Invalid where a running correction holds one of them."""
    programme = revise(programme, seen=seen)
    first = session_of(programme, session)
    later = with_training(programme.sessions.filter(week__gte=first.week))
    today = today_for(programme)
    may = [one.pk for one in later if not why_closed(one, today)]
    lines = Prescription.objects.filter(row=row, session__in=may)
    refuse_corrected(lines.exclude(movement=movement))
    return lines.update(movement=movement)


@transaction.atomic
def move_row(*, programme: Programme, seen: int, row: UUID, up: bool) -> None:
    """One place earlier or later in its sessions that are still to come. One transaction."""
    programme = revise(programme, seen=seen)
    today = today_for(programme)
    for session in with_training(programme.sessions.filter(prescriptions__row=row)):
        if why_closed(session, today):
            continue
        lines = list(session.prescriptions.order_by("position", "pk"))
        at = next(place for place, line in enumerate(lines) if line.row == row)
        to = at - 1 if up else at + 1
        if 0 <= to < len(lines):
            lines[at], lines[to] = lines[to], lines[at]
        for place, line in enumerate(lines, 1):
            line.position = place
        Prescription.objects.bulk_update(lines, ["position"])
