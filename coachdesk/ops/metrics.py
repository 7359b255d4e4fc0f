"""Figures for Prometheus, read from the rows at each scrape: no process has to add anything up."""

from collections.abc import Iterator

import redis
from django.conf import settings
from django.db.models import Count, Min, Model
from django.utils.timezone import now
from prometheus_client import CollectorRegistry
from prometheus_client.core import GaugeMetricFamily
from prometheus_client.registry import Collector

from coachdesk.ops.health import PARTS, broker, state_of
from reviews.intake.models import Clip, JobState, MediaJob, Submission, Upload


class Club(Collector):
    """Counts only: nothing here names a person, a club or a question."""

    def describe(self) -> list[GaugeMetricFamily]:
        return []  # or registering would already ask the database

    def collect(self) -> Iterator[GaugeMetricFamily]:
        yield _labelled("part_up", "1 when a part answers", "part", _parts())
        yield _by_state("media_jobs", "Media jobs", MediaJob)
        yield _by_state("clips", "Clips", Clip)
        yield _by_state("submissions", "Questions", Submission)
        arriving = Upload.objects.filter(finished_at=None).count()
        yield GaugeMetricFamily("coachdesk_uploads_arriving", "Uploads under way", value=arriving)
        yield GaugeMetricFamily(
            "coachdesk_media_oldest_wait_seconds",
            "How long the first clip in the line has waited",
            value=_oldest_wait(),
        )
        yield _labelled("queue_messages", "Messages that wait in the broker", "queue", _queues())


def registry() -> CollectorRegistry:
    club = CollectorRegistry()
    club.register(Club())
    return club


def _labelled(name: str, said: str, label: str, values: dict[str, float]) -> GaugeMetricFamily:
    family = GaugeMetricFamily(f"coachdesk_{name}", said, labels=[label])
    for key, value in values.items():
        family.add_metric([key], value)
    return family


def _by_state(name: str, said: str, model: type[Model]) -> GaugeMetricFamily:
    rows = model._default_manager.order_by().values_list("state").annotate(n=Count("pk"))
    return _labelled(name, f"{said} by state", "state", dict(rows))


def _parts() -> dict[str, float]:
    return {name: float(state_of(name) == "ok") for name in PARTS}


def _oldest_wait() -> float:
    waiting = MediaJob.objects.filter(state=JobState.QUEUED)
    first = waiting.aggregate(first=Min("queued_at"))["first"]
    return (now() - first).total_seconds() if first else 0.0


def _queues() -> dict[str, float]:
    """Lengths of the broker's lists; nothing while it is away (part_up says so)."""
    names = [settings.CELERY_TASK_DEFAULT_QUEUE, "media"]
    try:
        with broker() as client:
            return {name: float(client.llen(name)) for name in names}
    except redis.RedisError:
        return {}
