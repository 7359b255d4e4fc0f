"""A row that one worker at a time works on, for a limited time.

The row is the truth. `due_at` says when it may be taken: at once, after a wait, or when the lease
of whoever has it runs out; none, that nothing is left to do. A message about it (after_commit.py)
only says "look now": a lost one costs the time until the next sweep, a second one nothing.
"""

import logging
import threading
import time
from collections.abc import Callable
from datetime import timedelta
from types import TracebackType
from typing import Any, Self, TypeVar

from django.db import DatabaseError, connection, models
from django.db.models import F
from django.utils import timezone

from coachdesk.common import liveness

log = logging.getLogger(__name__)
Row = TypeVar("Row", bound=models.Model)

LOOK_SECONDS = 1.0  # how live the progress on a page is
STEP = 0.01  # less progress than this is not worth a write


class LeasedQuerySet(models.QuerySet[Row]):
    def due(self) -> Self:
        """What may be taken now."""
        return self.filter(due_at__lte=timezone.now())

    def lease(self, pk: Any, lasts: timedelta, **fields: Any) -> Row | None:
        """Become the one holder of a row for so long; None when it is not free. One statement.

        Counts as an attempt from this moment, so that work which kills its worker is counted too.
        Not for a queryset with a join: its conditions would stand in a subquery, which PostgreSQL
        does not ask again when it has waited for another worker's statement.
        """
        until = timezone.now() + lasts
        taken = self.due().filter(pk=pk)
        if not taken.update(due_at=until, attempts=F("attempts") + 1, **fields):
            return None
        return self.model._default_manager.filter(pk=pk).first()


class LeasedRow(models.Model):
    due_at = models.DateTimeField(null=True, default=timezone.now)
    attempts = models.PositiveSmallIntegerField(default=0)

    objects = LeasedQuerySet.as_manager()

    class Meta:
        abstract = True

    @property
    def is_due(self) -> bool:
        return self.due_at is not None and self.due_at <= timezone.now()


class LostLease(Exception):
    """Somebody else holds the row now; what this worker makes of it no longer counts."""


class LeaseRenewer:
    """`with LeaseRenewer(renew, seconds=30) as renewer`: the lease is renewed until the block ends,
    from a thread of its own, also while the work says nothing.

    Only the thread writes, by `renew(share)`, which answers whether the lease is still held;
    `progress` leaves a number for it. A renewer that cannot renew in time, or learns that the row
    is another's, makes `progress` raise LostLease, which ends the work at its next sign of life.
    """

    def __init__(self, renew: Callable[[float], bool], *, seconds: float) -> None:
        self._renew = renew
        self._seconds = seconds
        self._share = 0.0
        self._stop = threading.Event()
        self._lost = threading.Event()
        self._thread = threading.Thread(target=self._run, name="lease renewer", daemon=True)

    def __enter__(self) -> Self:
        self._thread.start()
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self._stop.set()
        self._thread.join()

    def progress(self, share: float) -> None:
        """Tell how far the work is, 0 to 1. Raises LostLease when it no longer counts."""
        self._share = share
        if self._lost.is_set():
            raise LostLease

    def _run(self) -> None:
        try:
            self._renew_until_stopped()
        finally:
            connection.close()  # the thread's own

    def _renew_until_stopped(self) -> None:
        written, renewed_at = 0.0, time.monotonic()
        while not self._stop.wait(LOOK_SECONDS):
            share, now = self._share, time.monotonic()
            if share - written < STEP and now - renewed_at < self._seconds / 4:
                continue
            try:
                held = self._renew(share)
            except DatabaseError as error:
                log.warning("A lease was not renewed: %s", error)
                held = now - renewed_at < self._seconds
            else:
                written, renewed_at = share, now
                liveness.touch()
            if not held:
                self._lost.set()
                return
