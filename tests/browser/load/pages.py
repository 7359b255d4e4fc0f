"""The load page: nothing yet, and weeks with a gap, a session unrated and a pain report."""

from datetime import timedelta
from uuid import uuid4

from django.urls import reverse
from django.utils.timezone import now

from athletes.local_time import today_of
from athletes.models import PainReport
from programming.logs.models import SetVerdict
from tests.browser.pages import Look
from tests.conftest import Cast
from tests.programming.load.training import squat, weeks_of_training


def trained(cast: Cast) -> None:
    weeks_of_training(cast.athlete, today_of(cast.athlete))
    for days, where in ((40, "lower back"), (9, "left knee")):
        PainReport.objects.create(
            athlete=cast.athlete, where=where, score=4, reported_at=now() - timedelta(days=days)
        )
    SetVerdict.objects.create(
        source=uuid4(), athlete=cast.athlete, movement=squat(), load_kg=150, reps=3,
        day=today_of(cast.athlete) - timedelta(days=25), to_standard=1, not_to_standard=2,
    )  # fmt: skip


def as_coach(cast: Cast) -> str:
    trained(cast)
    return reverse("athlete-load", args=[cast.athlete.pk])


def volume(cast: Cast) -> str:
    trained(cast)
    return reverse("my-load") + "?measure=volume&family=squat&weeks=26"


PAGES = [
    Look("athlete-load", "coach", as_coach),
    Look("athlete-load", "coach", lambda cast: f"/people/{cast.athlete.pk}/load/", "empty"),
    Look("my-load", "athlete", volume, "volume"),
]
