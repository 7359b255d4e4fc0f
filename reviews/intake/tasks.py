"""Celery's way in. The work lies in the use cases; a message carries nothing but a number."""

from functools import partial
from typing import Any

from celery import shared_task
from celery.signals import worker_ready
from django.conf import settings

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
def look_again(sender: Any, **kwargs: Any) -> None:
    """A worker that starts finds what a dead one held, also where no beat runs: what is free now,
    and what is free once every lease of the dead has run out.

    By the worker's own timer, not by a message with a countdown, which dies with its broker.
    """
    sweep = partial(sweep_jobs.apply_async, queue="media")
    sweep()
    sender.timer.call_after(settings.MEDIA_LEASE_SECONDS + 1, sweep)
