"""An owner sees what the machine lacks and what waits for it, and tries again by a button."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from athletes.mail.models import Mail
from reviews.intake import jobs
from reviews.intake.models import Clip, ClipState, JobState, MediaJob
from tests.conftest import Cast
from tests.reviews.replies.rows import a_clip, a_submission

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _no_broker(monkeypatch) -> None:
    monkeypatch.setattr(
        "coachdesk.common.after_commit.current_app.send_task", lambda *args, **options: None
    )


@pytest.fixture
def clip(cast: Cast) -> Clip:
    return a_clip(
        a_submission(cast.athlete), state=ClipState.PROCESSING, original="originals/lift.mp4"
    )


def page(client: Client, who, path: str = "/club/server/") -> str:
    client.force_login(who)
    return client.get(path, follow=True).content.decode()


def test_what_waits_for_the_disk_is_shown_to_the_owner(
    cast: Cast, client: Client, clip: Clip
) -> None:
    notice = "This server lacks something"
    assert notice not in page(client, cast.owner, "/desk/")
    jobs.hold_off(jobs.enqueue(clip).pk, part="disk", error="full")
    assert notice in page(client, cast.owner, "/desk/")
    assert notice not in page(client, cast.coach, "/desk/")
    shown = page(client, cast.owner)
    assert "The disk is full or cannot be written to." in shown
    assert cast.athlete.name in shown
    assert cast.athlete.name not in page(client, cast.stranger)


def test_a_button_tries_a_waiting_clip_and_a_failed_one_again(
    cast: Cast, client: Client, clip: Clip
) -> None:
    job = jobs.enqueue(clip)
    jobs.hold_off(job.pk, part="disk", error="full")
    client.force_login(cast.owner)
    again = f"/club/server/clips/{clip.pk}/again/"
    assert "Try again now" in page(client, cast.owner)
    assert client.post(again).status_code == 302
    job.refresh_from_db()
    assert (job.is_due, job.waits) == (True, 0)
    MediaJob.objects.update(state=JobState.FAILED, attempts=3, finished_at=timezone.now())
    Clip.objects.filter(pk=clip.pk).update(state=ClipState.FAILED, reason=jobs.GAVE_UP)
    client.post(again)
    job.refresh_from_db()
    clip.refresh_from_db()
    assert (job.state, job.attempts, job.fault) == (JobState.QUEUED, 0, "")
    assert (clip.state, clip.reason) == (ClipState.PROCESSING, "")


def test_a_mail_server_that_takes_nothing_is_shown(cast: Cast, client: Client) -> None:
    later = timezone.now() + timedelta(days=3)
    Mail.objects.create(kind="text", to="nil@example.org", body="secret-link", expires_at=later)
    assert "does not take our mail" not in page(client, cast.owner)
    Mail.objects.update(problem="TimeoutError")
    shown = page(client, cast.owner)
    assert "does not take our mail" in shown
    assert "secret-link" not in shown
    assert "nil@example.org" not in shown
