"""A preview as rows of a table: each session to come, before and after."""

from dataclasses import dataclass
from itertools import groupby

from athletes.local_time import today_of
from athletes.models import User
from programming.corrections.preview import Line, Preview
from programming.corrections.snapshots import Snapshot
from programming.corrections.summaries import PrescriptionSummary, summarize
from programming.models import Movement, PlannedSession
from programming.plans.models.correction import Correction
from programming.plans.selectors.loads import loads_of


@dataclass(frozen=True)
class Cell:
    """One prescription in its session: ``same`` says why nothing becomes of it."""

    before: PrescriptionSummary | None
    after: PrescriptionSummary
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

    def summary(values: Snapshot) -> PrescriptionSummary:
        name = names.get(values["movement_id"], new)
        return summarize(values, movement=name, loads=loads, day=today, unit=reader.unit)

    def cell(line: Line) -> Cell:
        before = summary(line.before) if line.before else None
        after = summary(line.after)
        return Cell(before, after, _same(line, before, after), line.clashes)

    grouped = groupby(shown.lines, key=lambda line: line.session)
    return [Row(session, [cell(line) for line in lines]) for session, lines in grouped]


def _names(shown: Preview) -> dict[int, str]:
    found = {line.after["movement_id"] for line in shown.lines}
    found |= {line.before["movement_id"] for line in shown.lines if line.before}
    return dict(Movement.objects.filter(pk__in=found - {None}).values_list("pk", "name"))


def _same(line: Line, before: PrescriptionSummary | None, after: PrescriptionSummary) -> str:
    if line.clashes:
        return "stays as it is"
    if line.before == line.after:
        return "as before"
    capped = line.before and line.after["cap_percent"] != line.before["cap_percent"]
    if capped and before and before.load.kg is not None and before.load.kg == after.load.kg:
        return "already under the cap; it holds when the max moves"
    return ""
