"""The broker is killed with all it held, is away for a while, and comes back empty."""

from datetime import timedelta

import pytest

from coachdesk.common import after_commit
from reviews.intake import jobs
from reviews.intake.models import ClipState, JobState, MediaJob
from tests.faults.ground import Ground, until

pytestmark = pytest.mark.kills


def test_what_the_broker_lost_is_sent_again(
    ground: Ground, send, short_lift: bytes, monkeypatch
) -> None:
    broker = ground.broker()
    told = send(short_lift)  # no worker yet: its message lies in the broker
    told.refresh_from_db()
    assert told.sent_at is not None
    ground.kill(broker)

    untold = send(short_lift + b"\0\0\0\x08free")  # the page answers all the same
    untold.refresh_from_db()
    assert (untold.state, untold.sent_at) == (JobState.QUEUED, None)

    ground.worker("-P", "solo")  # starts before there is a broker, and waits for it
    ground.broker()
    monkeypatch.setattr(jobs, "RESEND_AFTER", timedelta(seconds=2))

    def all_done() -> bool:
        jobs.sweep()  # beat's part
        return not MediaJob.objects.exclude(state=JobState.DONE).exists()

    until(all_done, 40, "both clips are made")
    for job in (told, untold):
        job.clip.refresh_from_db()
        assert job.clip.state == ClipState.PLAYABLE


def test_the_broker_dies_under_a_running_worker(ground: Ground, send, short_lift: bytes) -> None:
    broker = ground.broker()
    ground.worker("-P", "solo")
    first = send(short_lift)
    until(lambda: MediaJob.objects.filter(pk=first.pk, state="done").exists(), 40, "the first")
    ground.kill(broker)
    second = send(short_lift + b"\0\0\0\x08free")
    ground.broker()

    def done() -> bool:
        jobs.sweep()
        return MediaJob.objects.filter(pk=second.pk, state=JobState.DONE).exists()

    until(done, 40, "the worker came back to the broker by itself")


def test_a_worker_that_holds_a_message_waits_for_its_broker_too(
    ground: Ground, send, short_lift: bytes
) -> None:
    broker = ground.broker()
    worker = ground.worker("-P", "solo")
    with ground.client() as client:
        # Held until it is due, as any message is for a moment between taken and told so.
        after_commit.current_app.send_task(
            "reviews.intake.tasks.sweep_jobs", queue="media", countdown=600
        )
        until(lambda: client.hlen("unacked") == 1, 40, "the worker holds it")
    ground.kill(broker)
    job = send(short_lift)
    ground.broker()

    def done() -> bool:
        jobs.sweep()
        return MediaJob.objects.filter(pk=job.pk, state=JobState.DONE).exists()

    until(done, 40, "the worker came back to the broker by itself")
    assert worker.poll() is None
