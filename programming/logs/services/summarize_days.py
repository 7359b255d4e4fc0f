"""Day summaries: made again for the dirty days, or for whole athletes.

A summary is derived and never edited. Whoever makes it reads the log, computes and writes in one
transaction with the athlete's row locked, so that two workers cannot overwrite each other with an
older reading, and one that is killed leaves the day as it was and dirty.
"""

from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Any

import numpy as np
from django.db import connection, transaction
from django.utils import timezone

from athletes.models import User
from programming.load.days import Days, summarise
from programming.load.steps import DAYS
from programming.logs.models import DaySummary, DirtyDay
from programming.logs.selectors.log_arrays import FAMILY_OF, Scope, log_of, marks
from programming.logs.services.refresh_maxes import refresh_days

# Athletes summed up at once: enough to spread the cost of a statement, few enough that the arrays
# stay small and the write is a short one.
BATCH_SIZE = 20

# As in `programming.load.days.Days`, in the order they are written.
FIGURES = [
    "sessions",
    "sessions_rated",
    "session_load",
    "sets",
    "sets_loaded",
    "sets_with_max",
    "sets_with_effort",
    "reps",
    "reps_with_max",
    "hard_sets",
    "volume_load",
    "relative_volume_load",
]
COLUMNS = ["athlete_id", "day", "family", *FIGURES, "computed_at"]


def rebuild_summaries(athletes: Iterable[int]) -> None:
    """Every day of these athletes from the log. A transaction for each `BATCH_SIZE` of them."""
    for batch in batches(athletes):
        with transaction.atomic():
            lock(batch)
            rewrite(Scope(athletes=batch))


def summarize_dirty_days(athlete_id: int) -> int:
    """The dirty days of one athlete; how many there were. One transaction."""
    with transaction.atomic():
        lock([athlete_id])
        dirty = DirtyDay.objects.filter(athlete_id=athlete_id).values_list("pk", "day")
        # Maxes first: relative volume follows them, and one that changes makes more days dirty.
        refresh_days(athlete=User(pk=athlete_id), days={day for _, day in dirty})
        seen = list(dirty.all())
        if seen:
            days = sorted({day for _, day in seen})
            rewrite(Scope(athletes=[athlete_id], days=days))
            # Only what was read: a mark that came meanwhile asks for the day again.
            DirtyDay.objects.filter(pk__in=[pk for pk, _ in seen]).delete()
    return len(seen)


def computed(scope: Scope) -> Days:
    """What the log gives, nothing written."""
    return summarise(*log_of(scope))


def as_rows(days: Days) -> Iterator[tuple[Any, ...]]:
    """One tuple a row: athlete, day (ISO), family, then `FIGURES`; unknown is None."""
    athletes, numbers = np.divmod(days.day, DAYS)
    dates = np.datetime_as_string(numbers.astype("datetime64[D]")).tolist()
    families = [FAMILY_OF[code] for code in days.family.tolist()]
    figures = [_known(getattr(days, name)) for name in FIGURES]
    return zip(athletes.tolist(), dates, families, *figures, strict=True)


def _known(values: Any) -> list[Any]:
    if values.dtype.kind != "f":
        return list(values.tolist())
    return [None if value != value else value for value in values.tolist()]


def batches(athletes: Iterable[int]) -> Iterator[tuple[int, ...]]:
    """`BATCH_SIZE` of them at a time."""
    waiting = iter(athletes)
    while batch := tuple(islice(waiting, BATCH_SIZE)):
        yield batch


def lock(athletes: Sequence[int]) -> None:
    """FOR NO KEY UPDATE: whoever logs a set at the same time need not wait for it."""
    people = User.objects.filter(pk__in=athletes).order_by("pk")
    list(people.select_for_update(no_key=True).values_list("pk"))


def rewrite(scope: Scope) -> None:
    """Put what the log gives in the place of what is stored. Inside a transaction that holds the
    athletes' locks."""
    table = connection.ops.quote_name(DaySummary._meta.db_table)
    now = connection.ops.adapt_datetimefield_value(timezone.now())
    rows = [(*row, now) for row in as_rows(computed(scope))]
    insert = f"INSERT INTO {table} ({', '.join(COLUMNS)}) VALUES ({marks(COLUMNS)})"
    with connection.cursor() as cursor:
        cursor.execute(f"DELETE FROM {table} AS s WHERE {scope.where}", scope.values)
        if rows:
            cursor.executemany(insert, rows)
