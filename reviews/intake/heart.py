"""Keeps a lease alive from a thread of its own, also while ffmpeg says nothing."""

import logging
import threading
import time
from types import TracebackType

from django.conf import settings
from django.db import DatabaseError, connection

from coachdesk.common import liveness
from reviews.intake import jobs
from reviews.intake.models import MediaJob

log = logging.getLogger(__name__)

_LOOK_SECONDS = 1.0  # how live the progress on a page is
_STEP = 0.01  # less progress than this is not worth a write


class Heart:
    """`with Heart(job) as heart`: the lease is renewed until the block ends.

    Only the thread writes; `progress` leaves a number for it. A heart that cannot renew in time,
    or learns that another attempt holds the job, makes `progress` raise LostLease, which ends the
    work at ffmpeg's next sign of life.
    """

    def __init__(self, job: MediaJob) -> None:
        self._job = job
        self._share = 0.0
        self._stop = threading.Event()
        self._lost = threading.Event()
        self._thread = threading.Thread(target=self._run, name="heart", daemon=True)

    def __enter__(self) -> "Heart":
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
            raise jobs.LostLease(str(self._job))

    def _run(self) -> None:
        try:
            self._beat_until_stopped()
        finally:
            connection.close()  # the thread's own

    def _beat_until_stopped(self) -> None:
        told, beaten = 0.0, time.monotonic()
        while not self._stop.wait(_LOOK_SECONDS):
            share, now = self._share, time.monotonic()
            if share - told < _STEP and now - beaten < settings.MEDIA_LEASE_SECONDS / 4:
                continue
            try:
                held = jobs.beat(self._job, share)
            except DatabaseError as error:
                log.warning("No heartbeat for %s: %s", self._job, error)
                held = now - beaten < settings.MEDIA_LEASE_SECONDS
            else:
                told, beaten = share, now
                liveness.touch()
            if not held:
                self._lost.set()
                return
