"""The sets that speak for a max: which of them, and with how many reps.

Best max: every set that was logged, and every filmed one that is not in the log.
Technical max: filmed sets in which every reviewed rep was to standard. A set nobody reviewed does
not enter; nor does a rep that nobody could tell or called, so such a set only says "at least".

Neither counts a rep that was not made. A rep that was missed, or that its film shows not to be to
standard, leaves the set with the others, and the effort of such a set says nothing of them. A film
that is in no log proves the reps that were called to standard, and no other.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

import numpy as np
from django.db.models import F, Q, QuerySet

from athletes.models import User
from programming.load.equations import MOST_REPS
from programming.load.estimates import Band, band
from programming.logs.models import LoggedSet, MaxKind, SetVerdict
from programming.movements.models import Movement


@dataclass(frozen=True, slots=True)
class Lifted:
    """One set as it enters an estimate. ``rpe`` is none where it does not tell what was left."""

    day: date
    load: Decimal
    reps: int
    rpe: Decimal | None
    logged: str = ""  # id of the set in the log
    clip: str = ""  # id of the clip it was judged from


@dataclass(frozen=True)
class Whose:
    """One of the two maxes of one movement of one athlete."""

    athlete: User
    movement: Movement
    kind: str


def lifted_between(whose: Whose, first: date, last: date = date.max) -> list[Lifted]:
    """The sets that count for this max, oldest first, of both days and those between. At most two
    statements."""
    sets, verdicts = _rows(whose.athlete, first, last)
    judged = verdicts.filter(movement=whose.movement)
    if whose.kind == MaxKind.TECHNICAL:
        return sorted(_to_standard(judged), key=_in_order)
    logged = [one for _, one in _logged(sets.filter(movement=whose.movement))]
    return sorted([*logged, *_only_filmed(judged)], key=_in_order)


def lifted_on(athlete: User, day: date) -> dict[tuple[int, str], list[Lifted]]:
    """The same of one day for every movement and kind that it speaks for. Two statements."""
    sets, verdicts = _rows(athlete, day, day)
    found: dict[tuple[int, str], list[Lifted]] = {}
    for movement, one in _logged(sets):
        found.setdefault((movement, MaxKind.BEST), []).append(one)
    for row in verdicts:
        for one in _only_filmed([row]):
            found.setdefault((row.movement_id, MaxKind.BEST), []).append(one)
        for one in _to_standard([row]):
            found.setdefault((row.movement_id, MaxKind.TECHNICAL), []).append(one)
    return {key: sorted(of_day, key=_in_order) for key, of_day in found.items()}


def bands_of(sets: list[Lifted]) -> Band:
    """What each of the sets says about the max (kg)."""
    return band(
        [float(one.load) for one in sets],
        [one.reps for one in sets],
        [np.nan if one.rpe is None else float(one.rpe) for one in sets],
    )


def _in_order(one: Lifted) -> tuple[date, str, str]:
    return one.day, one.logged, one.clip


def _rows(
    athlete: User, first: date, last: date
) -> tuple[QuerySet[LoggedSet], QuerySet[SetVerdict]]:
    """What was logged and what was judged, of loads that say something of a max."""
    days = (first, last)
    sets = LoggedSet.objects.filter(
        session__athlete=athlete, session__day__range=days, load_kg__gt=0,
        reps__range=(1, MOST_REPS),
    )  # fmt: skip
    verdicts = SetVerdict.objects.filter(athlete=athlete, day__range=days, load_kg__gt=0)
    return sets.order_by(), verdicts.order_by().select_related("logged_set")


def _logged(sets: QuerySet[LoggedSet]) -> Iterable[tuple[int, Lifted]]:
    """Each with the movement it was of."""
    facts = sets.values_list(
        "movement_id", "session__day", "load_kg", "reps", "missed_reps", "rpe", "pk",
        F("verdict__reps") - F("verdict__not_to_standard"),
    )  # fmt: skip
    for movement, on, load, reps, missed, rpe, pk, on_film in facts:
        made = reps if on_film is None else min(reps, max(on_film, 0))
        if load is not None and made:
            effort = rpe if made == reps + missed else None
            yield movement, Lifted(on, load, made, effort, logged=str(pk))


def _only_filmed(verdicts: Iterable[SetVerdict]) -> Iterable[Lifted]:
    for row in verdicts:
        if row.logged_set_id is None and row.to_standard:
            rpe = row.rpe if row.to_standard >= row.reps else None
            yield Lifted(row.day, row.load_kg, row.to_standard, rpe, clip=str(row.source))


def _to_standard(verdicts: Iterable[SetVerdict]) -> Iterable[Lifted]:
    for row in verdicts:
        if is_clean(row):
            whole = row.to_standard >= row.reps
            rpe = row.rpe if row.logged_set is None else row.logged_set.rpe or row.rpe
            logged = str(row.logged_set_id or "")
            # The effort was felt at the end of the set: it says nothing of an earlier rep.
            yield Lifted(row.day, row.load_kg, row.to_standard, rpe if whole else None, logged,
                         str(row.source))  # fmt: skip


def is_clean(verdict: SetVerdict) -> bool:
    """Every reviewed rep was to standard, at least one was reviewed, and the log says of none that
    it was missed: a rep that breaks the standard is a missed rep, however heavy."""
    missed = verdict.logged_set.missed_reps if verdict.logged_set else 0
    return verdict.to_standard > 0 and verdict.not_to_standard == 0 and missed == 0


# The same rule where the database counts.
CLEAN = Q(to_standard__gt=0, not_to_standard=0) & (
    Q(logged_set=None) | Q(logged_set__missed_reps=0)
)
