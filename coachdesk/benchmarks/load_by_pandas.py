"""The same summaries by vectorised pandas, all athletes at once: what ours is held against.

It reads the same tables by the same joins, computes the same columns and writes the same rows.
"""

import warnings

import pandas as pd
from pysqlite3 import dbapi2 as sqlite

# pandas knows only the standard library's driver by name; this is the same one, newer.
warnings.filterwarnings("ignore", message="pandas only supports SQLAlchemy")

DAY = "CAST(julianday({}) - 2440587.5 AS INTEGER) AS day"
SETS = f"""SELECT s.athlete_id, {DAY.format("s.day")}, x.movement_id, x.reps, x.load_kg AS kg, x.rpe
FROM programming_loggedsession s JOIN programming_loggedset x ON x.session_id = s.id
WHERE s.athlete_id <= ?"""
SESSIONS = f"""SELECT athlete_id, {DAY.format("day")}, session_rpe, minutes
FROM programming_loggedsession WHERE athlete_id <= ?"""
MAXES = f"""SELECT athlete_id, movement_id, {DAY.format("day")}, kg AS top
FROM programming_maxrecord WHERE kind = 'best' AND athlete_id <= ?
ORDER BY programming_maxrecord.day, source, recorded_at, id"""


def rebuild(database: str, athletes: int) -> None:
    """The athletes are numbered from 1."""
    link = sqlite.connect(database)
    known = (athletes,)
    sets = pd.read_sql(SETS, link, params=known)
    sessions = pd.read_sql(SESSIONS, link, params=known)
    maxes = pd.read_sql(MAXES, link, params=known)
    movements = pd.read_sql("SELECT id AS movement_id, family FROM programming_movement", link)
    sets = sets.merge(movements, on="movement_id").sort_values("day", kind="stable")
    sets = pd.merge_asof(sets, maxes, on="day", by=["athlete_id", "movement_id"])
    families = _by_family(sets)
    keys = ["athlete_id", "day"]
    whole = families.groupby(keys).sum(numeric_only=True).reset_index().assign(family="")
    sessions["load"] = sessions.session_rpe * sessions.minutes
    counted = sessions.groupby(keys)["load"].agg(
        sessions="size", sessions_rated="count", session_load="sum"
    )
    whole = whole.merge(counted.reset_index(), on=keys, how="outer")
    days = pd.concat([whole, families]).fillna({"sessions": 0, "sessions_rated": 0})
    days["day"] = pd.to_datetime(days.day, unit="D").dt.strftime("%Y-%m-%d")
    days["computed_at"] = "2026-11-22 12:00:00"
    link.execute("DELETE FROM programming_daysummary WHERE athlete_id <= ?", known)
    days.to_sql("programming_daysummary", link, if_exists="append", index=False)
    link.commit()
    link.close()


def _by_family(sets: pd.DataFrame) -> pd.DataFrame:
    sets["volume"] = sets.reps * sets.kg
    sets["relative"] = sets.volume / sets.top
    sets["hard"] = sets.rpe >= 6.5
    sets["measured"] = sets.reps.where(sets.relative.notna(), 0)
    grouped = sets.groupby(["athlete_id", "day", "family"], sort=False)
    return grouped.agg(
        sets=("reps", "size"),
        sets_loaded=("kg", "count"),
        sets_with_max=("relative", "count"),
        sets_with_effort=("rpe", "count"),
        reps=("reps", "sum"),
        reps_with_max=("measured", "sum"),
        hard_sets=("hard", "sum"),
        volume_load=("volume", "sum"),
        relative_volume_load=("relative", "sum"),
    ).reset_index()
