"""The Celery application. Rows are the truth; a message only says "look now"."""

import logging.config
import os
from typing import Any

from celery import Celery
from celery.signals import setup_logging
from django.conf import settings
from kombu.transport.redis import Channel

from coachdesk.common.liveness import LivenessStep

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coachdesk.settings")

app = Celery("coachdesk")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(
    [
        "coachdesk.common",
        "athletes.webhooks",
        "athletes.mail",
        "programming.logs",
        "reviews.intake",
        "reviews.desk",
        "coachdesk",
    ],
    related_name="tasks",
)
app.steps["worker"].add(LivenessStep)

# When a connection ends, kombu puts the messages that were taken and not yet told so back into the
# broker, by that connection. Where it ended because the broker died that raises, and the worker
# ends instead of looking for its broker. The rows say what is to do: nothing needs to go back.
Channel.do_restore = False


@setup_logging.connect
def log_as_the_site_does(**kwargs: Any) -> None:
    """Or Celery would set up lines of its own, which nothing cleans."""
    logging.config.dictConfig(settings.LOGGING)
