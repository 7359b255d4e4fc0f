"""What the page shows of a file before it is brought in: its reading, its errors, its movements."""

from collections.abc import Mapping as Dict
from dataclasses import dataclass
from datetime import date

from athletes.local_time import today_of
from athletes.models import User
from programming.logs.csv.columns import DATE_ORDERS, FIELDS, NEEDED, Mapping, date_order, guessed
from programming.logs.csv.rows import Parsed, parse
from programming.logs.csv.services import NEW, known_days, questioned_loads
from programming.logs.csv.table import Table, read
from programming.movements.models import Movement
from programming.permissions import movements_visible_to

SAMPLE = 6  # rows shown of the file
ERRORS = 50  # rows named at once: who has more puts one cause right and looks again


@dataclass(frozen=True)
class Named:
    """A movement's name in the file, and which of the athlete's it is taken for ("" asks)."""

    field: str
    name: str
    chosen: str
    sets: int


@dataclass(frozen=True)
class Preview:
    table: Table
    mapping: Mapping
    parsed: Parsed
    named: list[Named]
    choices: list[Movement]
    missing: list[str]  # fields without which nothing can be read
    left_out: list[date]
    questioned: list[str]  # loads far above what is known of their movement

    @property
    def columns(self) -> list[tuple[int, str, str]]:
        """(number, heading, what it tells)."""
        pairs = zip(self.table.header, self.mapping.fields, strict=True)
        return [(n, heading, field) for n, (heading, field) in enumerate(pairs)]

    @property
    def sample(self) -> tuple[tuple[str, ...], ...]:
        return self.table.rows[:SAMPLE]

    @property
    def errors(self) -> list[tuple[int, str]]:
        return self.parsed.errors[:ERRORS]

    @property
    def errors_more(self) -> int:
        return len(self.parsed.errors) - len(self.errors)

    @property
    def days(self) -> tuple[date, date] | None:
        days = [session.day for session in self.parsed.sessions.values()]
        return (min(days), max(days)) if days else None

    @property
    def new_sessions(self) -> int:
        known = set(self.left_out)
        return sum(session.day not in known for session in self.parsed.sessions.values())

    @property
    def can_be_imported(self) -> bool:
        has_something = self.new_sessions or self.parsed.weights
        return bool(has_something) and not (self.missing or self.parsed.errors)

    @property
    def chosen(self) -> dict[str, str]:
        return {one.name: one.chosen for one in self.named}


def preview_of(athlete: User, text: str, form_data: Dict[str, str]) -> Preview:
    """``form_data``: of the page, empty at the first look. Raises Invalid (table.read)."""
    table = read(text)
    mapping = _mapping(table, form_data, athlete.unit)
    missing = [FIELDS[name] for name in NEEDED if name not in mapping.fields]
    parsed = Parsed() if missing else parse(table, mapping, today_of(athlete))
    choices = list(movements_visible_to(athlete))
    named = _named(parsed, choices, form_data)
    chosen = {one.name: one.chosen for one in named}
    return Preview(
        table=table,
        mapping=mapping,
        parsed=parsed,
        named=named,
        choices=choices,
        missing=missing,
        left_out=sorted(known_days(athlete, parsed)),
        questioned=questioned_loads(athlete, parsed, chosen),
    )


def _mapping(table: Table, form_data: Dict[str, str], unit: str) -> Mapping:
    guess = guessed(table.header, unit)
    fields: list[str] = []
    for n, likely in enumerate(guess.fields):
        field = form_data.get(f"column-{n}", likely)
        fields.append(field if field in FIELDS and field not in fields else "")
    dates = form_data.get("dates", "")
    if dates not in DATE_ORDERS:
        at = fields.index("date") if "date" in fields else None
        dates = date_order([row[at] for row in table.rows if row[at]]) if at is not None else "ymd"
    unit = form_data.get("unit", guess.unit)
    return Mapping(tuple(fields), dates, unit if unit in {"kg", "lb"} else "kg")


def _named(parsed: Parsed, choices: list[Movement], form_data: Dict[str, str]) -> list[Named]:
    """Names that are a movement's already are taken for it; the others are to be chosen."""
    by_name = {one.name.casefold(): str(one.pk) for one in choices}
    known = {NEW, *by_name.values()}
    counts: dict[str, int] = {}
    for session in parsed.sessions.values():
        for one in session.sets:
            counts[one.movement] = counts.get(one.movement, 0) + 1
    named = []
    for n, name in enumerate(parsed.movements):
        chosen = form_data.get(f"movement-{n}", "")
        if form_data.get(f"name-{n}") != name or chosen not in known:
            chosen = by_name.get(name.casefold(), NEW)
        named.append(Named(f"movement-{n}", name, chosen, counts[name]))
    return named
