"""The one place that hears when a training day changed: whatever is derived from it follows."""

import logging
from datetime import date
from functools import partial

from celery import current_app
from django.db import transaction
from kombu.exceptions import OperationalError
from redis.exceptions import RedisError

from athletes.models import User

log = logging.getLogger(__name__)
TASK = "programming.logs.tasks.summarise_day"


def day_touched(athlete: User, day: date) -> None:
    """Ask for the day to be summed up again. Call it inside the transaction that changes the log:
    the message goes out on commit, so a change that is rolled back asks for nothing."""
    transaction.on_commit(partial(_send, athlete.pk, day.isoformat()))


def _send(athlete_id: int, day: str) -> None:
    try:
        current_app.send_task(TASK, args=[athlete_id, day], ignore_result=True)
    except (OperationalError, RedisError) as gone:
        log.warning("No broker for the summary of %s on %s: %s", athlete_id, day, gone)
