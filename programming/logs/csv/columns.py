"""Which column tells what. Pure."""

import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

# What a column can tell, with its label; the order is the order of our own export.
FIELDS = {
    "date": "date",
    "session": "session of the day",
    "movement": "movement",
    "sets": "sets (as many alike)",
    "load": "load",
    "unit": "unit of the load",
    "reps": "reps done",
    "missed": "missed reps",
    "rpe": "RPE of the set",
    "note": "note on the set",
    "session rpe": "RPE of the session",
    "minutes": "minutes",
    "session note": "note on the session",
    "body weight": "body weight",
}
NEEDED = ("date", "movement", "reps")
# Usual headings; letters only, lower case (common practice, no source).
ALSO = {
    "date": ["day", "datum", "fecha"],
    "movement": ["exercise", "lift", "name", "exercisename", "bung"],
    "sets": ["setcount", "noofsets"],
    "load": ["weight", "kg", "lb", "lbs", "loadkg", "loadlb", "weightkg", "weightlb", "gewicht"],
    "unit": ["units", "weightunit", "loadunit"],
    "reps": ["rep", "repetitions", "wdh", "wiederholungen"],
    "missed": ["missedreps", "failed", "failedreps"],
    "rpe": ["setrpe", "effort"],
    "note": ["notes", "comment", "comments", "setnote"],
    "session rpe": ["srpe", "sessionrating"],
    "minutes": ["min", "duration", "durationmin", "time"],
    "session note": ["sessioncomment", "sessionnotes"],
    "session": ["sessionoftheday", "workout"],
    "body weight": ["bw", "bodyweightkg", "bodyweightlb"],
}
DATE_ORDERS = {
    "ymd": "year, month, day",
    "dmy": "day, month, year",
    "mdy": "month, day, year",
}
PARTS = re.compile(r"(\d{1,4})[-./ ](\d{1,2})[-./ ](\d{1,4})\.?(?:[ T]\d{1,2}:\d{2}.*)?$")


@dataclass(frozen=True)
class Mapping:
    """``fields``: what each column tells, "" for a column that is left out. ``dates``: a key of
    ``DATE_ORDERS``. ``unit``: of loads in rows that name none."""

    fields: tuple[str, ...]
    dates: str
    unit: str

    def at(self, field: str) -> int | None:
        return self.fields.index(field) if field in self.fields else None


def guessed(header: Sequence[str], unit: str) -> Mapping:
    """The likely reading of a file, by its headings; the order of its dates is ``date_order``'s."""
    known = {_plain(name): field for field, names in ALSO.items() for name in [field, *names]}
    fields: list[str] = []
    for heading in header:
        field = known.get(_plain(heading), "")
        fields.append("" if field in fields else field)
    at = fields.index("load") if "load" in fields else None
    if at is not None:
        found = re.search(r"\b(kg|lb)s?\b", header[at].lower())
        unit = found[1] if found else unit
    return Mapping(tuple(fields), "", unit)


def date_order(cells: Sequence[str]) -> str:
    """The order in which every date is one; of two that fit, the day first."""
    fits = [order for order in ("ymd", "dmy", "mdy") if all(day_in(cell, order) for cell in cells)]
    return fits[0] if fits else "ymd" if any(day_in(cell, "ymd") for cell in cells) else "dmy"


def day_in(cell: str, order: str) -> date | None:
    """The date a cell names, or none: "2026-11-23", "23.11.2026", "11/23/26"."""
    parts = PARTS.match(cell.strip())
    if not parts:
        return None
    named = dict(zip(order, parts.groups(), strict=True))
    if (len(named["y"]) == 4) != (order[0] == "y" or len(parts[3]) == 4):
        return None
    year = int(named["y"]) + (2000 if len(named["y"]) <= 2 else 0)
    try:
        return datetime(year, int(named["m"]), int(named["d"])).date()  # noqa: DTZ001  a date alone
    except ValueError:
        return None


def _plain(heading: str) -> str:
    return re.sub(r"[^a-z]", "", heading.lower())
