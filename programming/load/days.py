"""What a day's sets and sessions come to, for many athletes and days at once.

Volume load: sum of reps x kg. Relative volume load: sum of reps x load / max, the max being the one
of that day (3 x 8 at 65% = 15.6). Average intensity: relative volume load / its reps, that is the
mean load of a rep as a share of the max. Sources: BMJ Mil Health 2022;168(4):314-319, Table 1
(volume load, mean load, relative intensity); Scott BR, et al. Training monitoring for resistance
exercise. Sports Med 2016;46(5):687-698 (variants of relative volume; read as an abstract only).

Every sum is of whole numbers (grams, billionths of a max, tenths of an AU), which a float holds
exactly: whatever order the sets came in, and however many are summed at once, the result is the
same to the last bit. So "incremental equals full" can be asked as equality.
"""

from dataclasses import dataclass, fields
from typing import Any, Self

import numpy as np
import numpy.typing as npt

from programming.load.session_rpe import session_loads

Ints = npt.NDArray[np.int64]
Floats = npt.NDArray[np.float64]

# A set counts as hard when at most 4 reps can have been left. The limit differs between authors
# and must be stated (from memory: often 4 or 5). By the repetitions-in-reserve scale RPE 6 means
# "4 to 6 left", so it may be more than 4; 6.5 is the lowest that cannot.
HARD_RPE = 6.5
BILLION = 1e9
ALL = 0  # the family of the row that sums over all of them
FAMILIES = 8  # family codes are 1 to 7


@dataclass(frozen=True)
class Sets:
    """One entry a set. ``day`` is any whole number that stands for one athlete's day."""

    day: Ints
    family: Ints
    reps: Floats
    kg: Floats  # NaN: no load was written down
    max_kg: Floats  # the max of its movement on that day; NaN: none yet
    rpe: Floats  # NaN: not said


@dataclass(frozen=True)
class Sessions:
    """One entry a session, with days as in `Sets`."""

    day: Ints
    rpe: Floats
    minutes: Floats


@dataclass(frozen=True)
class Days:
    """One row per day and family that has something, and one with family `ALL` per day; sorted by
    day, then family. Effort and minutes are the session's, so only `ALL` rows carry sessions."""

    day: Ints
    family: Ints
    sessions: Ints
    sessions_rated: Ints  # with an RPE and minutes; fewer than `sessions` is a gap
    session_load: Floats  # AU, of the rated ones; NaN when none is
    sets: Ints
    sets_loaded: Ints  # with a load
    sets_with_max: Ints  # with a load, and a max to hold it against
    sets_with_effort: Ints  # with an RPE
    reps: Ints
    reps_with_max: Ints
    hard_sets: Ints
    volume_load: Floats  # kg, of the loaded sets; NaN when none is
    relative_volume_load: Floats  # maxes, of the sets that have one; NaN when none has

    def take(self, rows: npt.NDArray[np.bool_]) -> Self:
        return type(self)(*(getattr(self, field.name)[rows] for field in fields(self)))


def summarise(sets: Sets, sessions: Sessions) -> Days:
    """Every day that has a set or a session."""
    own = sets.day * FAMILIES + sets.family
    whole = sets.day * FAMILIES + ALL
    key, row = np.unique(
        np.concatenate([own, whole, sessions.day * FAMILIES + ALL]), return_inverse=True
    )
    of_set, of_session = row[: 2 * len(own)].reshape(2, -1), row[2 * len(own) :]

    def summed(values: npt.NDArray[Any]) -> Floats:
        """Over sets, into the family's row and the day's."""
        return _sums(of_set[0], values, len(key)) + _sums(of_set[1], values, len(key))

    loaded, effort = ~np.isnan(sets.kg), ~np.isnan(sets.rpe)
    measured = loaded & ~np.isnan(sets.max_kg)
    grams = np.where(loaded, sets.reps * np.rint(sets.kg * 1000), 0)
    share = np.divide(sets.kg, sets.max_kg, out=np.zeros(len(sets.kg)), where=measured)
    loads = session_loads(sessions.rpe, sessions.minutes)
    rated = ~np.isnan(loads)
    tenths = _sums(of_session, np.where(rated, loads * 10, 0), len(key))
    sessions_rated = _sums(of_session, rated, len(key))
    sets_loaded, sets_with_max = summed(loaded), summed(measured)
    billionths = summed(np.rint(sets.reps * share * BILLION))
    return Days(
        day=key // FAMILIES,
        family=key % FAMILIES,
        sessions=_whole(_sums(of_session, np.ones(len(loads)), len(key))),
        sessions_rated=_whole(sessions_rated),
        session_load=np.where(sessions_rated > 0, np.rint(tenths) / 10, np.nan),
        sets=_whole(summed(np.ones(len(own)))),
        sets_loaded=_whole(sets_loaded),
        sets_with_max=_whole(sets_with_max),
        sets_with_effort=_whole(summed(effort)),
        reps=_whole(summed(sets.reps)),
        reps_with_max=_whole(summed(np.where(measured, sets.reps, 0))),
        hard_sets=_whole(summed(sets.rpe >= HARD_RPE)),
        volume_load=np.where(sets_loaded > 0, summed(grams) / 1000, np.nan),
        relative_volume_load=np.where(sets_with_max > 0, billionths / BILLION, np.nan),
    )


def _sums(row: Ints, values: npt.NDArray[Any], rows: int) -> Floats:
    return np.bincount(row, values, minlength=rows).astype(np.float64, copy=False)


def _whole(values: Floats) -> Ints:
    return values.astype(np.int64)
