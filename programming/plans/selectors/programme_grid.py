"""The programme as a grid: sessions down, weeks across. A bounded number of statements."""

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from uuid import UUID

from django.db.models import Prefetch

from athletes.models import User
from coachdesk.common.units import shown
from programming.logs.models import LoggedSet, MaxKind
from programming.plans.models import PlannedSession, Prescription, Programme, Progression
from programming.plans.notation import written
from programming.plans.progression import rule_label
from programming.plans.resolving import Asked, Resolved
from programming.plans.running_corrections import with_corrections
from programming.plans.selectors.loads import Loads, loads_of
from programming.plans.services.copy_sessions import Copied
from programming.plans.services.lock_programme import today_for, why_closed, with_training
from programming.plans.services.set_progression import rule_of


@dataclass
class Cell:
    """One place of the grid. ``line`` is None where nothing is prescribed; ``session`` is None
    where that week has no such session."""

    week: int
    row: UUID
    session: PlannedSession | None
    line: Prescription | None
    resolved: Resolved | None
    closed: str  # why it cannot be changed, or ""
    other: bool = False  # another movement than its row's
    done: list[LoggedSet] = field(default_factory=list)
    copied: bool = False

    @property
    def key(self) -> str:
        return f"{self.session.pk if self.session else 0}:{self.row}"

    @property
    def text(self) -> str:
        return written(self.line.dose) if self.line else ""

    @property
    def side(self) -> str:
        """The plates of one side: "25 25 10"."""
        side = self.resolved.side if self.resolved else None
        return " ".join(f"{one.normalize():f}" for one in side or ())

    @property
    def why(self) -> list[str]:
        """What running corrections say of it."""
        changes = getattr(self.line, "running", []) if self.line else []
        return [change.correction.said for change in changes]


@dataclass
class Row:
    row: UUID
    movement: object
    maxes: str
    cells: list[Cell]
    rule: Progression | None = None
    rule_label: str = ""


@dataclass
class Band:
    """One session of the week, through all weeks; ``heads`` by week, None where it is not."""

    position: int
    name: str
    weekday: str
    heads: list[tuple["Week", PlannedSession | None]]
    rows: list[Row]

    @property
    def sessions(self) -> list[PlannedSession | None]:
        return [session for _, session in self.heads]


@dataclass
class Week:
    number: int
    first: date | None
    state: str  # done, now, coming; or copy
    note: str
    sets: str = ""  # "24", or "20 of 24" where some are done


@dataclass
class Grid:
    programme: Programme
    weeks: list[Week]
    bands: list[Band]
    loads: Loads | None
    today: date | None
    unit: str

    @property
    def is_empty(self) -> bool:
        return not any(band.rows for band in self.bands)

    @property
    def now(self) -> int:
        """The week to look at first: this one, or the next that comes."""
        return next((w.number for w in self.weeks if w.state != "done"), self.weeks[-1].number)

    def cells(self, rows: Iterable[UUID]) -> list[Cell]:
        wanted = set(rows)
        return [
            cell for band in self.bands for row in band.rows if row.row in wanted
            for cell in row.cells
        ]  # fmt: skip


def unit_for(programme: Programme, reader: User) -> str:
    """A programme is read and written in what its athlete loads: 290 lb, not 131.54 kg."""
    return programme.athlete.unit if programme.athlete else reader.unit


def grid_of(programme: Programme, *, unit: str, copies: list[Copied] | None = None) -> Grid:
    """``unit``: that of `unit_for`. ``copies``: a week that is shown dashed and not placed yet."""
    return _Drawing(programme, unit, copies or []).grid()


class _Drawing:
    def __init__(self, programme: Programme, unit: str, copies: list[Copied]) -> None:
        self.programme, self.unit, self.copies = programme, unit, copies
        self.today = today_for(programme)
        lines = with_corrections(Prescription.objects.select_related("movement"))
        self.sessions = list(
            with_training(programme.sessions.all()).prefetch_related(
                Prefetch("prescriptions", queryset=lines)
            )
        )
        self.loads = loads_of(programme.athlete) if programme.athlete else None
        self.rules = {rule.row: rule for rule in programme.progressions.all()}
        self.done: dict[UUID, list[LoggedSet]] = defaultdict(list)
        for one in LoggedSet.objects.filter(prescription__session__programme=programme):
            if one.prescription_id:
                self.done[one.prescription_id].append(one)
        self.last = max(programme.weeks, *(copy.session.week for copy in copies), 1)
        self.by_place = {(one.week, one.position): one for one in self.sessions}

    def grid(self) -> Grid:
        positions = sorted({one.position for one in self.sessions}, key=self._order)
        weeks = [self._week(number) for number in range(1, self.last + 1)]
        bands = [self._band(position, weeks) for position in positions]
        for at, week in enumerate(weeks):
            week.sets = _sets(row.cells[at] for band in bands for row in band.rows)
        return Grid(self.programme, weeks, bands, self.loads, self.today, self.unit)

    def _order(self, position: int) -> tuple[int, int]:
        """By weekday as the programme's week runs."""
        first = next(one for one in self.sessions if one.position == position)
        starts = self.programme.starts_on
        day = first.weekday if first.day is None else first.day.weekday()
        return ((day or 0) - (starts.weekday() if starts else 0)) % 7, position

    def _week(self, number: int) -> Week:
        if any(copy.session.week == number for copy in self.copies):
            first = min((c.session.day for c in self.copies if c.session.day), default=None)
            return Week(number, first, "copy", "not placed yet")
        mine = [one for one in self.sessions if one.week == number]
        days = sorted(one.day for one in mine if one.day)
        if not days or self.today is None:
            return Week(number, days[0] if days else None, "coming", "")
        trained = sum(one.is_trained for one in mine)
        if days[-1] < self.today:
            return Week(number, days[0], "done", f"{trained} of {len(mine)} trained")
        if days[0] <= self.today or trained:
            return Week(number, days[0], "now", f"this week, {trained} of {len(mine)} trained")
        return Week(number, days[0], "coming", "")

    def _band(self, position: int, weeks: list[Week]) -> Band:
        heads = [(week, self.by_place.get((week.number, position))) for week in weeks]
        some = [one for _, one in heads if one]
        return Band(
            position=position,
            name=next((one.name for one in reversed(some) if one.name), ""),
            weekday=_weekday(some[-1]),
            heads=heads,
            rows=self._rows(position, some),
        )

    def _rows(self, position: int, sessions: list[PlannedSession]) -> list[Row]:
        lines: dict[UUID, dict[int, Prescription]] = defaultdict(dict)
        places: dict[UUID, int] = {}
        for session in sessions:
            for line in session.prescriptions.all():
                lines[line.row][session.week] = line
                places[line.row] = line.position  # where it stands last
        copied = {
            line.row: line for copy in self.copies if copy.session.position == position
            for line in copy.lines
        }  # fmt: skip
        return [
            self._row(position, row, lines[row], copied.get(row))
            for row in sorted(lines, key=lambda row: (places[row], str(row)))
        ]

    def _row(
        self, position: int, row: UUID, lines: dict[int, Prescription], copy: Prescription | None
    ) -> Row:
        last = lines[max(lines)]
        rule = self.rules.get(row)
        first = lines.get(rule.from_week) if rule else None
        return Row(
            row=row,
            movement=last.movement,
            maxes=self._maxes(last.movement_id),
            cells=[
                self._cell(position, row, week, lines.get(week), last, copy)
                for week in range(1, self.last + 1)
            ],
            rule=rule,
            rule_label=rule_label(rule_of(rule), first.target_kind) if rule and first else "",
        )

    def _cell(
        self,
        position: int,
        row: UUID,
        week: int,
        line: Prescription | None,
        like: Prescription,
        copy: Prescription | None,
    ) -> Cell:
        session = self.by_place.get((week, position))
        copying = any(one.session.week == week for one in self.copies)
        if copying:
            kept = line is not None and bool(line.running)
            line = line if kept else copy
        closed = why_closed(session, self.today) if session else "That week has no such session."
        return Cell(
            week=week,
            row=row,
            session=session,
            line=line,
            resolved=self._resolve(line, session),
            closed="It is not placed yet." if copying else closed,
            other=line is not None and line.movement_id != like.movement_id,
            done=[] if copying else self.done.get(line.pk, []) if line else [],
            copied=copying,
        )

    def _resolve(
        self, line: Prescription | None, session: PlannedSession | None
    ) -> Resolved | None:
        if line is None:
            return None
        asked = Asked(line.target_kind, line.target, line.reps, line.cap_percent)
        if self.loads is None:
            kg = line.target if line.target_kind == "kg" else None
            return Resolved(kg, kg, "a template knows no max and no plates")
        day = (session.day if session else None) or self.today
        assert day is not None  # an athlete's programme has dates
        # What is past is shown by the max of its day, what comes by the one of today.
        return self.loads.resolve(asked, line.movement_id, min(day, self.today or day), self.unit)

    def _maxes(self, movement_id: int) -> str:
        if self.loads is None or self.today is None:
            return ""
        labels = []
        for kind in (MaxKind.TECHNICAL, MaxKind.BEST):
            known = self.loads.steps.at(self.loads.athlete_id, movement_id, kind, self.today)
            if known:
                labels.append(f"{kind.value} {shown(known.kg, self.unit)}")
        return ", ".join(labels) or "no max yet"


def _sets(cells: Iterable[Cell]) -> str:
    asked, done = 0, 0
    for cell in cells:
        done += len(cell.done)
        if cell.line is not None and not cell.line.held:
            asked += cell.line.sets
    return f"{done} of {asked}" if done else f"{asked}"


def _weekday(session: PlannedSession) -> str:
    day = session.weekday if session.day is None else session.day.weekday()
    return ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")[day or 0]
