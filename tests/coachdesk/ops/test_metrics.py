"""Figures for Prometheus, read back by the client library's own parser of the text format."""

import pytest
from prometheus_client import generate_latest
from prometheus_client.parser import text_string_to_metric_families

from coachdesk.ops.metrics import registry
from reviews.intake.models import Clip, MediaJob, Submission

pytestmark = pytest.mark.django_db


def test_figures_count_and_name_nobody(cast, settings) -> None:
    settings.CELERY_BROKER_URL = "redis+socket:///nowhere/valkey"
    submission = Submission.objects.create(
        club=cast.athlete.club, athlete=cast.athlete, question="Why do I tip forward?"
    )
    MediaJob.objects.create(clip=Clip.objects.create(submission=submission), recipe=1)
    text = generate_latest(registry()).decode()
    told = {
        (sample.name, *sample.labels.values()): sample.value
        for family in text_string_to_metric_families(text)
        for sample in family.samples
    }
    assert told["coachdesk_media_jobs", "queued"] == 1
    assert told["coachdesk_submissions", "draft"] == 1
    assert told["coachdesk_part_up", "broker"] == 0
    assert told["coachdesk_part_up", "database"] == 1
    assert told["coachdesk_media_oldest_wait_seconds",] >= 0
    for secret in (cast.athlete.name, cast.athlete.email, "tip forward", cast.athlete.club.name):
        assert secret not in text
