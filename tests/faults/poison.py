"""A worker's app in which a certain clip is deadly: what a fault in a decoder can do."""

import os
import signal
from pathlib import Path
from typing import Any

import django

from coachdesk.celery import app

django.setup()  # the models below need it, and Celery reads this module before it does so itself

from reviews.intake import making  # noqa: E402
from reviews.media.made import Made  # noqa: E402

__all__ = ["app"]

DEADLY = b"this file kills whoever reads it"
_process = making.process


def process(source: Path, out: Path, **options: Any) -> Made:
    with source.open("rb") as file:
        if file.read(len(DEADLY)) == DEADLY:
            os.kill(os.getpid(), signal.SIGKILL)
    return _process(source, out, **options)


making.process = process
