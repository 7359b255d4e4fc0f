"""A training log as long as wanted, straight into the tables: the rows are made by the database.

Four sessions a week of five sets over two or three movements, a new best max every eight weeks,
now and then a session without RPE or a set without effort.
"""

from datetime import date, timedelta
from typing import Any

from django.db import connection

LAST_DAY = date(2026, 11, 22)  # a Sunday

SESSIONS = """
INSERT INTO programming_loggedsession
  (id, athlete_id, day, planned_id, session_rpe, minutes, note, started_at, revision)
WITH RECURSIVE n(k) AS (SELECT 0 UNION ALL SELECT k + 1 FROM n WHERE k + 1 < 4 * :weeks)
SELECT lower(hex(randomblob(16))), p.id,
  date(:last, '-' || (7 * (k / 4) + CASE k % 4 WHEN 0 THEN 1 WHEN 1 THEN 3 WHEN 2 THEN 5 ELSE 6 END)
       || ' days'),
  NULL, CASE WHEN (p.id + k) % 31 = 0 THEN NULL ELSE 5 + (p.id * 7 + k * 3) % 9 / 2.0 END,
  45 + (p.id * 5 + k * 11) % 50, '', '2026-11-22 12:00:00', 1
FROM n JOIN athletes_user p ON p.id BETWEEN :first_athlete AND :last_athlete"""

SETS = """
INSERT INTO programming_loggedset
  (id, session_id, prescription_id, movement_id, position, load_kg, load_unit, reps, missed_reps,
   rpe, note, done_at, revision)
WITH place(k) AS (VALUES (1), (2), (3), (4), (5))
SELECT lower(hex(randomblob(16))), s.id, NULL,
  (SELECT m.id FROM movement_order m WHERE m.place = (s.rowid + k / 4) % 6),
  k, 60 + (s.rowid * 13 + k * 5) % 120 + 0.5 * (k % 2), 'kg',
  1 + (s.rowid + k) % 8, 0,
  CASE WHEN (s.rowid + k) % 5 = 0 THEN NULL ELSE 6 + (s.rowid + k) % 8 / 2.0 END, '',
  '2026-11-22 12:00:00', 1
FROM programming_loggedsession s CROSS JOIN place
WHERE s.athlete_id BETWEEN :first_athlete AND :last_athlete"""

MAXES = """
INSERT INTO programming_maxrecord
  (athlete_id, movement_id, kind, source, day, kg, low_kg, high_kg, inputs, reason, recorded_at)
WITH RECURSIVE n(k) AS (SELECT 0 UNION ALL SELECT k + 1 FROM n WHERE 8 * (k + 1) < :weeks)
SELECT p.id, m.id, 'best', 'hand', date(:last, '-' || (56 * k + 20) || ' days'),
  200 - k, 200 - k, 200 - k, '{}', 'bench', '2026-11-22 12:00:00'
FROM n CROSS JOIN movement_order m
JOIN athletes_user p ON p.id BETWEEN :first_athlete AND :last_athlete"""

MOVEMENTS = """
CREATE TEMP TABLE movement_order AS
SELECT id, row_number() OVER (ORDER BY id) - 1 AS place FROM programming_movement
WHERE name IN ('Low-bar squat', 'Paused bench press', 'Conventional deadlift', 'Overhead press',
               'Front squat', 'Barbell row') AND club_id IS NULL"""


def write_log(people: list[Any], weeks: int) -> None:
    """``weeks`` of training for these people, up to `LAST_DAY`. Their ids follow each other."""
    values = {
        "weeks": weeks,
        "last": (LAST_DAY + timedelta(days=1)).isoformat(),
        "first_athlete": people[0].pk,
        "last_athlete": people[-1].pk,
    }
    connection.ensure_connection()
    # A scratch database: with the usual cache of 2 MB every random id would be a page from disk.
    connection.connection.execute("PRAGMA cache_size = -400000")
    connection.connection.execute("PRAGMA synchronous = OFF")
    connection.connection.execute("DROP TABLE IF EXISTS temp.movement_order")
    connection.connection.execute(MOVEMENTS)
    for statement in (SESSIONS, SETS, MAXES):
        connection.connection.execute(statement, values)
    connection.connection.commit()


def take_statistics() -> None:
    """What a database server does by itself. Without it SQLite reads every set of a movement, of
    all athletes, where it looks for those of one."""
    connection.connection.execute("ANALYZE")
    connection.connection.commit()
