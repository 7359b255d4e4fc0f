"""A file that a worker or the clock touches while it gets on, for whoever watches it from beside.

Asking the worker would not do: one that makes a clip answers nobody until it is done.
docker-compose.yml looks at the file's age.
"""

from pathlib import Path
from typing import Any

from celery import bootsteps
from celery.signals import after_task_publish, beat_init
from django.conf import settings

EVERY_SECONDS = 5.0


def touch() -> None:
    if settings.LIVENESS_FILE:
        Path(settings.LIVENESS_FILE).touch()


class LivenessStep(bootsteps.StartStopStep):
    """From the worker's own loop, which also stands still while it looks for its broker.

    While that loop runs a long job, whoever renews the job's lease touches the file for it.
    """

    requires = {"celery.worker.components:Timer"}

    def start(self, worker: Any) -> None:
        touch()
        worker.timer.call_repeatedly(EVERY_SECONDS, touch)


@beat_init.connect
def watch_the_clock(**kwargs: Any) -> None:
    """The clock shows it with each message that the broker took; it sends one every ten seconds."""
    touch()
    after_task_publish.connect(_touch_after_publish, weak=False)


def _touch_after_publish(**kwargs: Any) -> None:
    touch()
