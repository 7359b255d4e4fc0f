"""Celery's way in. The work lies in the use cases; a message carries nothing but a number."""

from typing import Any

from celery import shared_task
from celery.signals import worker_ready

from reviews.intake import jobs, making, uploads


@shared_task(ignore_result=True)
def make_playable(job_id: int) -> None:
    making.attempt(job_id)


@shared_task(ignore_result=True)
def sweep_jobs() -> None:
    making.clear_leftovers()
    jobs.sweep()


@shared_task(ignore_result=True)
def sweep_uploads() -> None:
    uploads.finish_stranded()
    uploads.drop_expired()


@worker_ready.connect
def look_at_once(**kwargs: Any) -> None:
    """A worker that starts finds what a dead one left, also where no beat runs."""
    sweep_jobs()
