"""Workers and the clock show that they get on; docker-compose.yml looks at the file's age."""

from typing import Any

from celery import bootsteps
from celery.signals import after_task_publish, beat_init

from reviews.intake.pulse import beat

EVERY_SECONDS = 5.0


class Pulse(bootsteps.StartStopStep):
    """From the worker's own loop, which also stands still while it looks for its broker.

    While that loop makes a clip, the job's heart beats for it (reviews/intake/heart.py).
    """

    requires = {"celery.worker.components:Timer"}

    def start(self, worker: Any) -> None:
        beat()
        worker.timer.call_repeatedly(EVERY_SECONDS, beat)


@beat_init.connect
def show_the_clock(**kwargs: Any) -> None:
    """The clock beats with each message that the broker took; it sends one every ten seconds."""
    beat()
    after_task_publish.connect(_sent, weak=False)


def _sent(**kwargs: Any) -> None:
    beat()
