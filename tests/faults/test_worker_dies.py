"""Kill -9 in mid-transcode, and a clip that kills every worker that touches it."""

import time
from datetime import timedelta
from pathlib import Path

import psutil
import pytest
from django.conf import settings

from reviews.intake import jobs, making
from reviews.intake.models import ClipState, JobState, MediaJob
from tests.faults.ground import Ground, Process, is_gone, making_ffmpeg, until
from tests.faults.poison import DEADLY

pytestmark = pytest.mark.kills

WITHOUT_A_HAND_SECONDS = 60  # from a new worker's start to a clip that plays


def state_of(job: MediaJob) -> str:
    job.refresh_from_db()
    return job.state


def in_mid_transcode(worker: Process, job: MediaJob) -> psutil.Process:
    """Wait until ffmpeg has worked on the job for a while; the process."""
    until(lambda: making_ffmpeg(worker.pid) is not None, 60, "ffmpeg runs")
    time.sleep(0.5)
    ffmpeg = making_ffmpeg(worker.pid)
    assert ffmpeg is not None, "the clip was made before it could be cut; make it longer"
    assert state_of(job) == JobState.RUNNING
    return ffmpeg


def test_killed_in_mid_transcode_another_finishes_without_a_hand(
    ground: Ground, send, long_lift: bytes
) -> None:
    """The default lease, no beat, no quick worker: a new media worker alone is enough."""
    assert settings.MEDIA_LEASE_SECONDS == 30
    ground.broker()
    first = ground.worker("-P", "solo")
    job = send(long_lift)
    ffmpeg = in_mid_transcode(first, job)
    ground.kill(first)
    until(lambda: is_gone(ffmpeg), 2, "ffmpeg dies with its worker")
    assert state_of(job) == JobState.RUNNING, "nobody has noticed yet"
    left = Path(settings.MEDIA_WORK_DIR) / job.holder
    assert left.is_dir(), "a killed worker cannot tidy up"

    liveness = ground.folder / "liveness"
    ground.worker("-P", "solo", liveness=str(liveness))
    until(liveness.exists, 30, "the new worker shows that it gets on")
    until(lambda: state_of(job) == JobState.DONE, WITHOUT_A_HAND_SECONDS, "done without a hand")
    job.clip.refresh_from_db()
    assert (job.clip.state, job.clip.frames, job.attempts) == (ClipState.PLAYABLE, 360, 2)
    assert not left.exists()


def test_a_poison_clip_stops_at_three_attempts_and_holds_up_nobody(
    ground: Ground, send, short_lift: bytes, settings
) -> None:
    """A pool of one, so that the healthy clip can only be served between two deaths."""
    settings.MEDIA_LEASE_SECONDS = 2
    ground.broker()
    ground.worker("-P", "prefork", "-c", "1", app="tests.faults.poison", lease=2)
    poison, healthy = send(DEADLY), send(short_lift)

    def over() -> bool:
        jobs.sweep()  # beat's part, sooner
        return state_of(poison) == JobState.FAILED

    until(over, 40, "the poison clip has failed")
    assert poison.attempts == settings.MEDIA_JOB_ATTEMPTS
    poison.clip.refresh_from_db()
    assert (poison.clip.state, poison.clip.reason) == (ClipState.FAILED, jobs.GAVE_UP)
    assert state_of(healthy) == JobState.DONE
    assert healthy.finished_at < poison.finished_at - timedelta(seconds=2)
    making.clear_leftovers()
    assert list(Path(settings.MEDIA_WORK_DIR).iterdir()) == []
    time.sleep(3)
    jobs.sweep()
    assert state_of(poison) == JobState.FAILED
    assert poison.attempts == 3


def test_a_worker_told_to_stop_gives_its_job_back_at_once(
    ground: Ground, send, long_lift: bytes
) -> None:
    """Cold shutdown (SIGQUIT) is how bin/run ends its workers: a restart must cost no attempt."""
    import signal

    ground.broker()
    worker = ground.worker("-P", "solo")
    job = send(long_lift)
    in_mid_transcode(worker, job)
    worker.send_signal(signal.SIGQUIT)
    worker.wait(8)
    assert (state_of(job), job.attempts) == (JobState.QUEUED, 0)
    assert list(Path(settings.MEDIA_WORK_DIR).iterdir()) == []
