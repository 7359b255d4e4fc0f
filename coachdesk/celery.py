"""The Celery application. Rows are the truth; a message only says "look now"."""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "coachdesk.settings")

app = Celery("coachdesk")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(
    ["programming.logs", "reviews.intake", "reviews.desk", "reviews.replies", "coachdesk"],
    related_name="tasks",
)
