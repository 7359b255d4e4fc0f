"""The media job row: one holder at a time, a lease that must be renewed, three attempts.

The row is the truth. A message only says "look now", so a lost one costs seconds and a second
one costs nothing. Each public function is one transaction.
"""

import os
import socket
import uuid
from datetime import timedelta
from functools import partial
from typing import Any

from django.conf import settings
from django.db import transaction
from django.db.models import F, Q, QuerySet
from django.utils import timezone

from coachdesk.common import after_commit
from coachdesk.common.leases import LeaseRenewer, LostLease
from reviews.intake.models import Clip, ClipState, JobState, MediaJob
from reviews.media.plan import RECIPE as MEDIA_RECIPE

RECIPE = int(MEDIA_RECIPE)
TASK = "reviews.intake.tasks.make_playable"
# A message that went out this long ago and moved nothing is taken for lost.
RESEND_AFTER = timedelta(seconds=30)
# Only the head of a long line is sent again: the rest is reached long after these are gone.
RESEND_AT_ONCE = 20
CLOCKS_DIFFER = timedelta(seconds=2)  # of the machine that asks and the worker's: due at once
WELL: dict[str, Any] = {"fault": "", "waits": 0}
OVER: dict[str, Any] = {"holder": "", "due_at": None, **WELL}  # done or given up
GAVE_UP = (
    "We tried this clip three times and could not get through it. Your question and your other "
    "clips are safe. Open the clip in your phone's gallery, save or export it as a video (MP4), "
    "and send that."
)


# A machine in trouble is asked again after a minute, then after twice as long, up to half an hour.
FIRST_WAIT, LONGEST_WAIT = timedelta(minutes=1), timedelta(minutes=30)


def new_holder() -> str:
    """A name for one attempt, never used twice: who, and something nobody else can say."""
    return f"{socket.gethostname()[:20]}-{os.getpid()}-{uuid.uuid4().hex}"[:64]


def enqueue(clip: Clip) -> MediaJob:
    """Ask for `clip` to be made playable: the row now, the message on commit.

    A broker that is away does not matter: the sweeper sends what it did not take. A clip that
    failed starts again with all its attempts.
    """
    if not (clip.original and clip.sha256):
        raise ValueError("A clip is made playable from an original that is stored and known.")
    with transaction.atomic():
        job, _ = MediaJob.objects.select_for_update().get_or_create(clip=clip, recipe=RECIPE)
        fresh = {"state": JobState.QUEUED, "attempts": 0, "progress": 0, "last_error": ""}
        now = timezone.now()
        times = {
            "queued_at": now,
            "due_at": now - CLOCKS_DIFFER,
            "sent_at": None,
            "finished_at": None,
        }
        fresh |= WELL
        waiting = Clip.objects.filter(pk=clip.pk).exclude(state=ClipState.PLAYABLE)
        if waiting.update(state=ClipState.PROCESSING, reason=""):
            MediaJob.objects.filter(pk=job.pk, state=JobState.FAILED).update(**fresh, **times)
            clip.state, clip.reason = ClipState.PROCESSING, ""
            transaction.on_commit(lambda: send(job.pk))
    job.refresh_from_db()
    return job


def send(job_id: int) -> bool:
    """Tell a worker to look; False when the broker cannot be reached."""
    if not after_commit.send(TASK, job_id):
        return False
    MediaJob.objects.filter(pk=job_id).update(sent_at=timezone.now())
    return True


def take(job_id: int, holder: str) -> MediaJob | None:
    """Become the one holder of a job that waits or whose lease ran out; else None."""
    free = MediaJob.objects.filter(
        state__in=[JobState.QUEUED, JobState.RUNNING], attempts__lt=settings.MEDIA_JOB_ATTEMPTS
    )
    begun = {"progress": 0, "heartbeat_at": timezone.now()}
    return free.lease(job_id, lease_time(), state=JobState.RUNNING, holder=holder, **begun)


def renew(job: MediaJob, progress: float) -> bool:
    """Renew the lease and tell how far it is (0 to 1); False when it is no longer held."""
    now = timezone.now()
    return bool(
        _held(job).update(
            progress=min(1.0, max(0.0, progress)), heartbeat_at=now, due_at=now + lease_time()
        )
    )


def renewer(job: MediaJob) -> LeaseRenewer:
    """Keeps the job's lease for as long as the work takes."""
    return LeaseRenewer(partial(renew, job), seconds=settings.MEDIA_LEASE_SECONDS)


def finish(job: MediaJob) -> None:
    """Close a job whose clip is published. Raises LostLease when another attempt holds it."""
    done = _held(job).update(
        state=JobState.DONE,
        progress=1,
        last_error="",
        finished_at=timezone.now(),
        **OVER,
    )
    if not done:
        raise LostLease(str(job))


def refuse(job: MediaJob, *, sentence: str, error: str) -> None:
    """The file is at fault: no other attempt would help, so the athlete is told now."""
    _give_up(_held(job), sentence=sentence, error=error)


def wait_for_machine(job: MediaJob, *, part: str, error: str) -> None:
    """The machine lacks something: back into the line for later, and no attempt is used up."""
    wait = min(LONGEST_WAIT, FIRST_WAIT * 2**job.waits)
    _back_in_line(
        _held(job),
        error=error,
        attempts=F("attempts") - 1,
        fault=part,
        waits=F("waits") + 1,
        due_at=timezone.now() + wait,
    )


def hold_off(job_id: int, *, part: str, error: str) -> None:
    """As `wait_for_machine`, for a job that nobody has taken: it would not even begin well."""
    free = MediaJob.objects.due().filter(pk=job_id, state=JobState.QUEUED)
    for waits in free.values_list("waits", flat=True):
        wait = min(LONGEST_WAIT, FIRST_WAIT * 2**waits)
        until = {"due_at": timezone.now() + wait, "waits": waits + 1}
        free.update(fault=part, last_error=error, **until)


def waiting_for_machine() -> QuerySet[MediaJob]:
    """Jobs that wait until somebody has put the machine right."""
    return MediaJob.objects.filter(state=JobState.QUEUED).exclude(fault="")


def try_again(clip: Clip) -> MediaJob:
    """Somebody has put right what was wrong: now, and with all attempts."""
    job = enqueue(clip)
    waiting = waiting_for_machine().filter(pk=job.pk)
    if waiting.update(due_at=timezone.now(), waits=0):
        transaction.on_commit(lambda: send(job.pk))
    return job


def retry(job: MediaJob, *, error: str) -> None:
    """Nobody knows what is at fault: back into the line, at its end, until the attempts are used
    up."""
    if job.attempts >= settings.MEDIA_JOB_ATTEMPTS:
        _give_up(_held(job), sentence=GAVE_UP, error=error)
    else:
        _back_in_line(_held(job), error=error)


def give_back(job: MediaJob) -> None:
    """Stop an attempt that failed at nothing; it does not count, and another may begin at once."""
    _back_in_line(_held(job), error="", attempts=F("attempts") - 1)


def sweep() -> None:
    """Bring back what a dead worker held or the broker lost, and end what keeps failing."""
    expired = MediaJob.objects.due().filter(state=JobState.RUNNING)
    used_up = expired.filter(attempts__gte=settings.MEDIA_JOB_ATTEMPTS)
    gone = "The worker went away in the middle."
    for job_id in list(used_up.values_list("pk", flat=True)):
        _give_up(used_up.filter(pk=job_id), sentence=GAVE_UP, error=gone)
    _back_in_line(expired.filter(attempts__lt=settings.MEDIA_JOB_ATTEMPTS), error=gone)
    unsent = Q(sent_at=None) | Q(sent_at__lt=timezone.now() - RESEND_AFTER)
    waiting = MediaJob.objects.due().filter(unsent, state=JobState.QUEUED)
    for job_id in list(waiting.values_list("pk", flat=True)[:RESEND_AT_ONCE]):
        if not send(job_id):
            return  # the broker is away; the next sweep tries again


def _held(job: MediaJob) -> QuerySet[MediaJob]:
    return MediaJob.objects.filter(pk=job.pk, state=JobState.RUNNING, holder=job.holder)


def lease_time() -> timedelta:
    return timedelta(seconds=settings.MEDIA_LEASE_SECONDS)


def _back_in_line(jobs: QuerySet[MediaJob], *, error: str, **more: Any) -> None:
    now = timezone.now()
    queued = {"state": JobState.QUEUED, "queued_at": now, "due_at": now, "sent_at": None}
    jobs.update(**{**queued, "holder": "", "progress": 0, "last_error": error, **more})


def _give_up(jobs: QuerySet[MediaJob], *, sentence: str, error: str) -> None:
    """Fail one job and its clip together. Does nothing when `jobs` no longer holds it."""
    with transaction.atomic():
        job = jobs.first()
        if job is None or not jobs.update(
            state=JobState.FAILED, last_error=error, finished_at=timezone.now(), **OVER
        ):
            return
        clips = Clip.objects.filter(pk=job.clip_id).exclude(state=ClipState.PLAYABLE)
        clips.update(state=ClipState.FAILED, reason=sentence)
