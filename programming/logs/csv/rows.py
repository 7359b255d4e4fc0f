"""From cells to what was lifted, and a sentence for each row that says nothing. Pure."""

import re
from collections.abc import Mapping as Dict
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal

from coachdesk.common.errors import Invalid
from programming.limits import body_in_kg, load_in_kg
from programming.logs.csv.cells import unescape_cell
from programming.logs.csv.columns import DATE_ORDERS, Mapping, day_in
from programming.logs.csv.table import Table

MOST_SETS_ALIKE = 20
NUMBER = re.compile(r"\d{1,5}(?:\.\d{1,3})?")


@dataclass(frozen=True)
class Lift:
    """A set of a row; ``load_kg`` none is a lift without a load."""

    movement: str
    load_kg: Decimal | None
    unit: str
    reps: int
    missed: int
    rpe: Decimal | None
    note: str


@dataclass
class Session:
    """``key``: its number of the day. The facts may stand in any of its rows."""

    day: date
    key: str
    sets: list[Lift] = field(default_factory=list)
    rpe: Decimal | None = None
    minutes: int | None = None
    note: str = ""


@dataclass
class Parsed:
    """``errors``: (line of the file, sentence). ``weights``: kg by day."""

    sessions: dict[tuple[date, str], Session] = field(default_factory=dict)
    weights: dict[date, Decimal] = field(default_factory=dict)
    errors: list[tuple[int, str]] = field(default_factory=list)

    @property
    def movements(self) -> list[str]:
        """Every name, in the order of the file."""
        return list(
            dict.fromkeys(
                one.movement for session in self.sessions.values() for one in session.sets
            )
        )

    @property
    def set_count(self) -> int:
        return sum(len(session.sets) for session in self.sessions.values())


def parse(table: Table, mapping: Mapping, today: date) -> Parsed:
    """Every row; one with an error adds nothing but its error."""
    parsed = Parsed()
    for number, cells in zip(table.numbers, table.rows, strict=True):
        values = {
            name: unescape_cell(cell)
            for name, cell in zip(mapping.fields, cells, strict=True)
            if name and cell.strip()
        }
        try:
            _row(parsed, values, mapping, table.comma, today)
        except Invalid as wrong:
            parsed.errors.append((number, str(wrong)))
    return parsed


def _row(
    parsed: Parsed, values: Dict[str, str], mapping: Mapping, comma: bool, today: date
) -> None:  # fmt: skip
    day = _day(values, mapping, today)
    number = _Numbers(values, comma)
    unit = _unit(values.get("unit", mapping.unit))
    if "body weight" in values:
        weight = number.decimal("body weight")
        assert weight is not None  # it is there
        parsed.weights[day] = body_in_kg(weight, unit)
        if "movement" not in values:
            return
    lift = _lift(values, number, unit)
    alike = number.whole("sets", most=MOST_SETS_ALIKE)
    rpe, minutes = number.effort("session rpe", least=0), number.whole("minutes", most=600)
    key = (day, values.get("session", "1").strip())
    session = parsed.sessions.get(key) or Session(*key)
    for name, value in (("rpe", rpe), ("minutes", minutes)):
        if value is not None and getattr(session, name) not in (None, value):
            raise Invalid(f"The session of {day} has two different values: {name} {value}.")
    session.rpe = session.rpe if rpe is None else rpe
    session.minutes = session.minutes if minutes is None else minutes
    session.note = session.note or values.get("session note", "")[:2000]
    session.sets += [lift] * (1 if alike is None else alike)
    parsed.sessions[key] = session


def _lift(values: Dict[str, str], number: "_Numbers", unit: str) -> Lift:
    movement = values.get("movement", "").strip()
    if not movement:
        raise Invalid("There is no movement.")
    if len(movement) > 80:
        raise Invalid("The movement has more than 80 characters.")
    reps, missed = number.whole("reps", most=200), number.whole("missed", most=200) or 0
    if reps is None:
        raise Invalid("There are no reps.")
    if reps + missed == 0:
        raise Invalid("No rep was done and none missed.")
    load = load_in_kg(number.decimal("load"), unit)
    note = values.get("note", "")
    if len(note) > 500:
        raise Invalid("The note has more than 500 characters.")
    return Lift(movement, load, unit, reps, missed, number.effort("rpe", least=1), note)


def _day(values: Dict[str, str], mapping: Mapping, today: date) -> date:
    cell = values.get("date")
    if cell is None:
        raise Invalid("There is no date.")
    day = day_in(cell, mapping.dates)
    if day is None:
        raise Invalid(f"“{cell}” is not a date written {DATE_ORDERS[mapping.dates]}.")
    if day > today:
        raise Invalid(f"{day} has not come yet.")
    if day.year < 1950:
        raise Invalid(f"{day} is too long ago. Check the year.")
    return day


def _unit(cell: str) -> str:
    known = {"kg": "kg", "kgs": "kg", "lb": "lb", "lbs": "lb"}
    unit = known.get(cell.strip().lower())
    if unit is None:
        raise Invalid(f"“{cell}” is not a unit. Write kg or lb.")
    return unit


class _Numbers:
    """The numbers of one row, each refused by the name of its column."""

    NAMES = {"reps": "reps", "missed": "missed reps", "sets": "sets", "rpe": "RPE"}

    def __init__(self, values: Dict[str, str], comma: bool) -> None:
        self.values, self.comma = values, comma

    def decimal(self, name: str) -> Decimal | None:
        cell = self.values.get(name)
        if cell is None:
            return None
        plain = cell.strip().lower().removesuffix("kg").removesuffix("lb").strip()
        if self.comma and "." not in plain:
            plain = plain.replace(",", ".")
        if not NUMBER.fullmatch(plain):
            raise Invalid(f"“{cell}” is not a number of {self.NAMES.get(name, name)}.")
        return Decimal(plain)

    def whole(self, name: str, most: int) -> int | None:
        value = self.decimal(name)
        if value is None:
            return None
        if value % 1 or value > most:
            label = self.NAMES.get(name, name)
            raise Invalid(f"“{self.values[name]}”: {label} are whole and at most {most}.")
        return int(value)

    def effort(self, name: str, least: int) -> Decimal | None:
        value = self.decimal(name)
        if value is not None and (value * 2 % 1 or not least <= value <= 10):
            raise Invalid(f"“{self.values[name]}” is not an effort from {least} to 10 in halves.")
        return value
