"""The job row, tried to be broken: two holders, late finishers, poison, a broker that is away."""

from datetime import timedelta

import pytest
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import connections, transaction
from django.utils import timezone

from coachdesk.common import after_commit
from coachdesk.common.leases import LostLease
from reviews.intake import jobs
from reviews.intake.models import Clip, ClipState, JobState, MediaJob, Submission

pytestmark = pytest.mark.django_db


@pytest.fixture
def clip(cast) -> Clip:
    submission = Submission.objects.create(club=cast.athlete.club, athlete=cast.athlete)
    name = default_storage.save("originals/a", ContentFile(b"bytes"))
    return Clip.objects.create(submission=submission, original=name, sha256="ab" * 32, size=5)


@pytest.fixture
def sent(monkeypatch) -> list[int]:
    """Ids of the messages the broker took."""
    taken: list[int] = []
    monkeypatch.setattr(
        "coachdesk.common.after_commit.current_app.send_task",
        lambda name, args, **options: taken.append(args[0]),
    )
    return taken


def expire(job: MediaJob) -> None:
    past = timezone.now() - timedelta(seconds=1)
    MediaJob.objects.filter(pk=job.pk).update(due_at=past)


def held(job: MediaJob, holder: str = "a") -> MediaJob:
    taken = jobs.take(job.pk, holder)
    assert taken is not None
    return taken


def test_the_row_is_there_before_the_message(
    clip, sent, django_capture_on_commit_callbacks
) -> None:
    with django_capture_on_commit_callbacks(execute=True):
        job = jobs.enqueue(clip)
        assert job.state == JobState.QUEUED
        assert sent == []
    assert sent == [job.pk]
    clip.refresh_from_db()
    assert clip.state == ClipState.PROCESSING


def test_asking_twice_keeps_one_job(clip, sent) -> None:
    assert jobs.enqueue(clip).pk == jobs.enqueue(clip).pk
    assert MediaJob.objects.count() == 1


def test_a_clip_without_a_stored_original_is_refused(clip, sent) -> None:
    clip.original = ""
    with pytest.raises(ValueError, match="original"):
        jobs.enqueue(clip)


def test_a_playable_clip_is_not_made_again(clip, sent, django_capture_on_commit_callbacks) -> None:
    jobs.enqueue(clip)
    MediaJob.objects.update(state=JobState.DONE)
    Clip.objects.filter(pk=clip.pk).update(
        state=ClipState.PLAYABLE, frames=1, recipe=jobs.RECIPE, made={}
    )
    with django_capture_on_commit_callbacks(execute=True):
        assert jobs.enqueue(clip).state == JobState.DONE
    clip.refresh_from_db()
    assert (clip.state, sent) == (ClipState.PLAYABLE, [])


def test_a_failed_clip_starts_again_with_all_its_attempts(clip, sent) -> None:
    job = held(jobs.enqueue(clip))
    jobs.refuse(job, sentence="No.", error="no")
    again = jobs.enqueue(clip)
    assert (again.state, again.attempts, again.last_error) == (JobState.QUEUED, 0, "")
    clip.refresh_from_db()
    assert (clip.state, clip.reason) == (ClipState.PROCESSING, "")


def test_a_dead_broker_does_not_break_the_request_and_the_sweep_sends(
    clip, sent, monkeypatch, settings, django_capture_on_commit_callbacks
) -> None:
    def away(*args: object, **options: object) -> None:
        raise ConnectionRefusedError("nobody listens")

    with monkeypatch.context() as patch, django_capture_on_commit_callbacks(execute=True):
        patch.setattr("coachdesk.common.after_commit.current_app.send_task", away)
        job = jobs.enqueue(clip)
        jobs.sweep()
    job.refresh_from_db()
    assert (job.state, job.sent_at) == (JobState.QUEUED, None)
    jobs.sweep()
    assert sent == [job.pk]
    jobs.sweep()
    assert sent == [job.pk], "a message that may still be on its way is not doubled"
    MediaJob.objects.update(sent_at=timezone.now() - jobs.RESEND_AFTER)
    jobs.sweep()
    assert sent == [job.pk, job.pk]


def test_a_real_broker_that_is_away_is_noticed_at_once(clip, settings) -> None:
    """No stand-in: Celery itself, and a port where nobody listens (from the reserved range)."""
    from celery import Celery

    away = Celery("away", broker="redis://127.0.0.1:1/0", set_as_current=False)
    away.conf.broker_transport_options = settings.CELERY_BROKER_TRANSPORT_OPTIONS
    away.conf.task_publish_retry = settings.CELERY_TASK_PUBLISH_RETRY
    before = timezone.now()
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(after_commit, "current_app", away)
        assert jobs.send(1) is False
    assert timezone.now() - before < timedelta(seconds=2.5)


def test_one_holder_at_a_time(clip, sent) -> None:
    job = jobs.enqueue(clip)
    assert held(job).attempts == 1
    assert jobs.take(job.pk, "b") is None
    expire(job)
    assert held(job, "b").attempts == 2


def test_beat_renews_and_tells(clip, sent, settings) -> None:
    job = held(jobs.enqueue(clip))
    first = job.due_at
    assert jobs.renew(job, 0.5)
    job.refresh_from_db()
    assert job.progress == 0.5
    assert job.due_at > first
    assert jobs.renew(job, 7)
    job.refresh_from_db()
    assert job.progress == 1


def test_who_lost_the_lease_changes_nothing(clip, sent) -> None:
    job = jobs.enqueue(clip)
    late = held(job, "late")
    expire(job)
    held(job, "now")
    assert not jobs.renew(late, 0.9)
    with pytest.raises(LostLease):
        jobs.finish(late)
    jobs.refuse(late, sentence="No.", error="late")
    jobs.retry(late, error="late")
    job.refresh_from_db()
    assert (job.state, job.holder, job.last_error) == (JobState.RUNNING, "now", "")
    clip.refresh_from_db()
    assert clip.state == ClipState.PROCESSING


def test_finishing_twice_changes_nothing(clip, sent) -> None:
    job = held(jobs.enqueue(clip))
    jobs.finish(job)
    first = MediaJob.objects.values().get(pk=job.pk)
    with pytest.raises(LostLease):
        jobs.finish(job)
    assert MediaJob.objects.values().get(pk=job.pk) == first


def test_a_refusal_is_final_and_says_why(clip, sent) -> None:
    job = held(jobs.enqueue(clip))
    jobs.refuse(job, sentence="Trim it and send it again.", error="too_long")
    job.refresh_from_db()
    clip.refresh_from_db()
    assert (job.state, job.last_error) == (JobState.FAILED, "too_long")
    assert (clip.state, clip.reason) == (ClipState.FAILED, "Trim it and send it again.")
    assert jobs.take(job.pk, "b") is None


def test_the_machine_gets_three_attempts(clip, sent) -> None:
    job = jobs.enqueue(clip)
    for attempt in (1, 2):
        jobs.retry(held(job), error="disk full")
        job.refresh_from_db()
        assert (job.state, job.attempts, job.sent_at) == (JobState.QUEUED, attempt, None)
    jobs.retry(held(job), error="disk full")
    job.refresh_from_db()
    clip.refresh_from_db()
    assert (job.state, job.attempts) == (JobState.FAILED, 3)
    assert (clip.state, clip.reason) == (ClipState.FAILED, jobs.GAVE_UP)


def test_an_attempt_that_was_cut_by_a_shutdown_does_not_count(clip, sent) -> None:
    job = jobs.enqueue(clip)
    for _ in range(5):
        jobs.give_back(held(job))
    job.refresh_from_db()
    assert (job.state, job.attempts, job.holder) == (JobState.QUEUED, 0, "")
    jobs.sweep()
    assert sent == [job.pk]


def test_poison_stops_at_three(clip, sent) -> None:
    """A clip that kills its worker never reports: only its lease runs out."""
    job = jobs.enqueue(clip)
    for attempt in (1, 2, 3):
        assert held(job, str(attempt)).attempts == attempt
        jobs.sweep()
        job.refresh_from_db()
        assert job.state == JobState.RUNNING, "a live lease is left alone"
        expire(job)
        assert attempt < 3 or jobs.take(job.pk, "fourth") is None
        jobs.sweep()
    job.refresh_from_db()
    clip.refresh_from_db()
    assert (job.state, job.attempts) == (JobState.FAILED, 3)
    assert (clip.state, clip.reason) == (ClipState.FAILED, jobs.GAVE_UP)


def test_a_swept_job_goes_to_the_end_of_the_line(clip, sent) -> None:
    job = held(jobs.enqueue(clip))
    queued = job.queued_at
    expire(job)
    jobs.sweep()
    job.refresh_from_db()
    assert (job.state, job.holder, job.is_due) == (JobState.QUEUED, "", True)
    assert job.queued_at > queued
    assert sent == [job.pk]


@pytest.mark.django_db(transaction=True)
def test_many_workers_and_one_job(clip, sent) -> None:
    """Eight threads, each with its own connection, want the same job: one gets it."""
    from concurrent.futures import ThreadPoolExecutor
    from threading import Barrier

    with transaction.atomic():
        job = jobs.enqueue(clip)
    start = Barrier(8)

    def take(number: int) -> bool:
        try:
            start.wait()
            return jobs.take(job.pk, f"worker {number}") is not None
        finally:
            connections.close_all()

    with ThreadPoolExecutor(8) as pool:
        assert sum(pool.map(take, range(8))) == 1
    job.refresh_from_db()
    assert job.attempts == 1


def test_the_clock_sends_what_there_is_and_often_enough(settings) -> None:
    """A name in the schedule that no worker knows would be dropped in silence."""
    from coachdesk.celery import app

    app.loader.import_default_modules()
    schedule = settings.CELERY_BEAT_SCHEDULE.values()
    assert {entry["task"] for entry in schedule} <= set(app.tasks)
    seconds = {entry["task"]: entry["schedule"] for entry in schedule}
    # A lease, then a sweep: half of the 60 s in which a killed job must be done are left for it.
    assert settings.MEDIA_LEASE_SECONDS + seconds["reviews.intake.tasks.sweep_jobs"] <= 45
    assert jobs.TASK in app.tasks
    assert settings.CELERY_TASK_ROUTES[jobs.TASK] == {"queue": "media"}
