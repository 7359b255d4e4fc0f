"""Send after the commit, or wait for the sweep.

Work is a row that is committed with what it is about; the message only says "look now". A broker
that is away undoes nothing: whoever owns the rows has a sweep that finds what no message reached.
"""

import logging
from functools import partial
from typing import Any

from celery import current_app
from django.db import transaction
from kombu.exceptions import OperationalError
from redis.exceptions import RedisError

log = logging.getLogger(__name__)


def send_after_commit(task: str, *args: Any) -> None:
    """The message of this task, once what the transaction wrote can be seen."""
    transaction.on_commit(partial(send, task, *args))


def send(task: str, *args: Any) -> bool:
    """The message now; False when the broker cannot be reached."""
    try:
        current_app.send_task(task, args=list(args), ignore_result=True)
    except (OperationalError, RedisError, OSError) as error:
        log.warning("%s %s waits for the sweep: %s", task, args, type(error).__name__)
        return False
    return True
