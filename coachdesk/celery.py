"""The Celery application. Rows are the truth; a message only says "look now"."""

import logging.config
import os
from typing import Any

from celery import Celery
from celery.signals import setup_logging
from django.conf import settings

from coachdesk.pulse import Pulse

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coachdesk.settings")

app = Celery("coachdesk")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(
    [
        "athletes.hooks",
        "programming.logs",
        "reviews.intake",
        "reviews.desk",
        "reviews.replies",
        "coachdesk",
    ],
    related_name="tasks",
)
app.steps["worker"].add(Pulse)


@setup_logging.connect
def log_as_the_site_does(**kwargs: Any) -> None:
    """Or Celery would set up lines of its own, which nothing cleans."""
    logging.config.dictConfig(settings.LOGGING)
