"""A preview as rows of a table: each session to come, before and after."""

from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from athletes.local import today_of
from athletes.models import User
from programming.corrections.models import Correction
from programming.corrections.previewing import Line, Preview
from programming.corrections.snapshots import Snapshot
from programming.models import Movement, PlannedSession, Prescription
from programming.plans.loads import loads_of
from programming.plans.resolving import Asked, Resolved
from programming.plans.today_lines import target_words


@dataclass(frozen=True)
class Said:
    """A prescription in words: what, how often, and what goes on the bar."""

    movement: str
    sets: int
    reps: int
    held: bool
    target: str
    load: Resolved
    extra: str


@dataclass(frozen=True)
class Cell:
    """One prescription in its session: ``same`` says why nothing becomes of it."""

    before: Said | None
    after: Said
    same: str
    clashes: tuple[Correction, ...]


@dataclass(frozen=True)
class Row:
    session: PlannedSession
    cells: list[Cell]


def rows_of(shown: Preview, athlete: User, reader: User) -> list[Row]:
    """The sessions that hold the movement; a bounded number of statements."""
    names = _names(shown)
    loads = loads_of(athlete)
    today = today_of(athlete)  # a percentage follows the max as it stands
    new = shown.wish.name or shown.wish.drill_name

    def say(values: Snapshot, line: Line) -> Said:
        asked = Asked(
            values["target_kind"],
            Decimal(values["target"]) if values["target"] else None,
            values["reps"],
            Decimal(values["cap_percent"]) if values["cap_percent"] else None,
        )
        return Said(
            movement=names.get(values["movement_id"], new),
            sets=values["sets"],
            reps=values["reps"],
            held=values["held"],
            target=target_words(
                Prescription(target_kind=asked.kind, target=asked.target), reader.unit
            ),
            load=loads.resolve(asked, values["movement_id"], today, reader.unit),
            extra=_extra(values),
        )

    def cell(line: Line) -> Cell:
        before = say(line.before, line) if line.before else None
        after = say(line.after, line)
        return Cell(before, after, _same(line, before, after), line.clashes)

    grouped = groupby(shown.lines, key=lambda line: line.session)
    return [Row(session, [cell(line) for line in lines]) for session, lines in grouped]


def _names(shown: Preview) -> dict[int, str]:
    found = {line.after["movement_id"] for line in shown.lines}
    found |= {line.before["movement_id"] for line in shown.lines if line.before}
    return dict(Movement.objects.filter(pk__in=found - {None}).values_list("pk", "name"))


def _same(line: Line, before: Said | None, after: Said) -> str:
    if line.clashes:
        return "stays as it is"
    if line.before == line.after:
        return "as before"
    capped = line.before and line.after["cap_percent"] != line.before["cap_percent"]
    if capped and before and before.load.kg is not None and before.load.kg == after.load.kg:
        return "already under the cap; it holds when the max moves"
    return ""


def _extra(values: Snapshot) -> str:
    rest = values["rest_seconds"]
    parts = [
        f"tempo {values['tempo']}" if values["tempo"] else "",
        f"rest {rest} s" if rest else "",
        values["note"],
    ]
    return ", ".join(part for part in parts if part)


def _line(asked: Asked) -> Prescription:
    return Prescription(target_kind=asked.kind, target=asked.target)
