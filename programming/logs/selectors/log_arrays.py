"""The log as arrays, for one athlete's days or for many athletes whole.

By hand-written SQL: a training log is long, and building a model row and a Decimal for each set
takes several times as long as all that is computed from them.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

import numpy as np
import numpy.typing as npt
from django.db import connection

from programming.load.days import Sessions, Sets
from programming.load.steps import DAYS, in_force
from programming.movements.families import Family

FAMILY_CODES = {family.value: code for code, family in enumerate(Family, start=1)}
FAMILY_OF = {0: "", **{code: family for family, code in FAMILY_CODES.items()}}
MOVEMENTS = 1 << 21  # series number: athlete x MOVEMENTS + movement

# A date as days since 1 January 1970: a whole number, where a driver would make an object a row.
DAY_NUMBER = {
    "sqlite": "CAST(julianday({0}) - 2440587.5 AS INTEGER)",
    "postgresql": "({0} - DATE '1970-01-01')",
}

SETS = """
SELECT s.athlete_id, {day}, x.movement_id, x.reps, CAST(x.load_kg AS double precision),
       CAST(x.rpe AS double precision)
FROM programming_loggedsession s JOIN programming_loggedset x ON x.session_id = s.id
WHERE {where}"""

SESSIONS = """
SELECT s.athlete_id, {day}, CAST(s.session_rpe AS double precision), s.minutes
FROM programming_loggedsession s WHERE {where}"""

# With the one before the first day asked about: it is the one in force there. The order is that of
# `programming.logs.selectors.current_maxes.in_force_order`.
MAXES = """
SELECT m.athlete_id, m.movement_id, {day}, CAST(m.kg AS double precision)
FROM programming_maxrecord m
WHERE m.kind = 'best' AND m.athlete_id IN ({athletes}) AND m.movement_id IN ({movements}){since}
ORDER BY m.athlete_id, m.movement_id, m.day, m.source, m.recorded_at, m.id"""

SINCE = """ AND m.day <= %s AND m.day >= COALESCE((
  SELECT MAX(p.day) FROM programming_maxrecord p
  WHERE p.athlete_id = m.athlete_id AND p.movement_id = m.movement_id AND p.kind = 'best'
    AND p.day <= %s), m.day)"""


@dataclass(frozen=True)
class Scope:
    """Whose days: all of theirs, or with ``days`` only these (of one athlete)."""

    athletes: Sequence[int]
    days: Sequence[date] = ()

    @property
    def where(self) -> str:
        """Of the table named s."""
        condition = f"s.athlete_id IN ({marks(self.athletes)})"
        return f"{condition} AND s.day IN ({marks(self.days)})" if self.days else condition

    @property
    def values(self) -> list[Any]:
        return [*self.athletes, *(day.isoformat() for day in self.days)]


def log_of(scope: Scope) -> tuple[Sets, Sessions]:
    """Days of the arrays are athlete x DAYS + day number (see `programming.load.steps.DAYS`)."""
    with connection.cursor() as cursor:
        day = DAY_NUMBER[connection.vendor].format("s.day")
        cursor.execute(SETS.format(day=day, where=scope.where), scope.values)
        sets = _columns(cursor.fetchall(), 6)
        cursor.execute(SESSIONS.format(day=day, where=scope.where), scope.values)
        sessions = _columns(cursor.fetchall(), 4)
        movements, which = np.unique(_whole(sets[2]), return_inverse=True)
        families = _families(cursor, movements.tolist())[which]
        maxes = _maxes(cursor, scope, movements.tolist())
    athlete, number = _whole(sets[0]), _whole(sets[1])
    series = athlete * MOVEMENTS + _whole(sets[2])
    return (
        Sets(
            day=athlete * DAYS + number,
            family=families,
            reps=sets[3],
            kg=sets[4],
            max_kg=in_force(*maxes, of=series, on=number),
            rpe=sets[5],
        ),
        Sessions(
            day=_whole(sessions[0]) * DAYS + _whole(sessions[1]),
            rpe=sessions[2],
            minutes=sessions[3],
        ),
    )


def marks(values: Sequence[Any]) -> str:
    """Placeholders for an IN list."""
    return ", ".join(["%s"] * len(values))


def _families(cursor: Any, movements: list[int]) -> npt.NDArray[np.int64]:
    """The family code of each movement."""
    if not movements:
        return np.empty(0, np.int64)
    cursor.execute(
        f"SELECT id, family FROM programming_movement WHERE id IN ({marks(movements)})", movements
    )
    codes = {pk: FAMILY_CODES[family] for pk, family in cursor.fetchall()}
    return np.array([codes[pk] for pk in movements], np.int64)


def _maxes(cursor: Any, scope: Scope, movements: list[int]) -> tuple[Any, Any, Any]:
    """Series, day and kg of the best maxes that matter to the scope."""
    if not movements:
        return np.empty(0, np.int64), np.empty(0, np.int64), np.empty(0)
    values: list[int | str] = [*scope.athletes, *movements]
    if scope.days:
        values += [max(scope.days).isoformat(), min(scope.days).isoformat()]
    text = MAXES.format(
        day=DAY_NUMBER[connection.vendor].format("m.day"),
        athletes=marks(scope.athletes),
        movements=marks(movements),
        since=SINCE if scope.days else "",
    )
    cursor.execute(text, values)
    found = _columns(cursor.fetchall(), 4)
    return _whole(found[0]) * MOVEMENTS + _whole(found[1]), _whole(found[2]), found[3]


def _columns(rows: list[tuple[Any, ...]], width: int) -> npt.NDArray[np.float64]:
    """A row an array column; what the database does not know is NaN."""
    return np.array(rows, np.float64).reshape(-1, width).T


def _whole(values: npt.NDArray[np.float64]) -> npt.NDArray[np.int64]:
    return values.astype(np.int64)
