"""One attempt at one media job: take it, make the clip playable, publish, tidy up."""

import logging
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from botocore.exceptions import BotoCoreError
from celery.worker import state
from django.conf import settings
from django.core.files.storage import default_storage
from django.utils import timezone

from coachdesk.common.leases import LostLease
from reviews.intake import jobs
from reviews.intake.models import Clip, JobState, MediaJob
from reviews.intake.publishing import (
    already_made,
    publish,
    remove_unused,
    staging_folder,
    store,
)
from reviews.media.limits import Limits
from reviews.media.machine import has_room, part_at_fault
from reviews.media.process import process
from reviews.media.refusals import Interrupted, Refused

log = logging.getLogger(__name__)

BLOCK = 1 << 20
SPARE_BYTES = 64 * 1024**2


def attempt(job_id: int) -> None:
    """Work on a job if it is free; whatever happens, the row says how it went."""
    clear_leftovers()
    if not _has_room(job_id):
        jobs.hold_off(job_id, part="disk", error="There is too little room on the disk.")
        return
    job = jobs.take(job_id, jobs.new_holder())
    if job is None:
        return
    try:
        _make(job)
    except Refused as refused:
        log.info("%s refused: %s", job, refused)
        jobs.refuse(job, sentence=refused.sentence, error=str(refused))
    except LostLease:
        log.warning("Work dropped, the job is another's or the clip is gone: %s", job)
        remove_unused(job.clip.sha256)
    except (Interrupted, OSError) as error:
        _put_back(job, error)
    except Exception as error:
        if _is_told_to_stop():
            jobs.give_back(job)
        elif _part_at_fault(error):
            _put_back(job, error)
            return
        else:
            log.exception("%s, attempt %s", job, job.attempts)
            jobs.retry(job, error=f"{type(error).__name__}: {error}")
        raise
    except BaseException:
        jobs.give_back(job)  # told to stop: neither the file nor the machine is at fault
        raise


def _has_room(job_id: int) -> bool:
    """A clip makes at most a clean copy and a playable of about its size; and rows need room, or
    nobody could write down how it went."""
    size = MediaJob.objects.filter(pk=job_id).values_list("clip__size", flat=True).first() or 0
    storage = staging_folder()
    folders = [Path(settings.MEDIA_WORK_DIR), *([storage] if storage else [])]
    return all(has_room(folder, 2 * size + SPARE_BYTES) for folder in folders)


def _put_back(job: MediaJob, error: Exception) -> None:
    log.warning("%s, attempt %s: %s", job, job.attempts, error)
    text = f"{type(error).__name__}: {error}"
    part = _part_at_fault(error)
    if part:
        jobs.wait_for_machine(job, part=part, error=text)
    else:
        jobs.retry(job, error=text)


def _part_at_fault(error: BaseException) -> str | None:
    return "storage" if isinstance(error, BotoCoreError) else part_at_fault(error)


def _is_told_to_stop() -> bool:
    """Celery's cold shutdown reaches a solo worker as an exception of no certain kind."""
    return state.should_terminate not in (None, False)


def clear_leftovers() -> None:
    """Remove the folders of attempts that no longer hold a lease: their worker was killed."""
    for parent in (Path(settings.MEDIA_WORK_DIR), staging_folder()):
        if parent is None or not parent.is_dir():
            continue
        for folder in list(parent.iterdir()):
            if not _is_live(folder.name):
                shutil.rmtree(folder, ignore_errors=True)


def _is_live(holder: str) -> bool:
    running = MediaJob.objects.filter(state=JobState.RUNNING, holder=holder)
    return running.filter(due_at__gte=timezone.now()).exists()


def _make(job: MediaJob) -> None:
    clip = job.clip
    with jobs.renewer(job) as lease, _own_folders(job.holder) as folder:
        facts = already_made(clip.sha256, job.recipe)
        if facts is None:
            original = _fetch(clip, folder)
            limits = Limits(
                max_bytes=settings.UPLOAD_MAX_BYTES, max_seconds=settings.CLIP_MAX_SECONDS
            )
            made = process(original, folder / "out", on_progress=lease.progress, limits=limits)
            facts = made.to_json()
            store(folder / "out", sha256=clip.sha256, recipe=job.recipe, holder=job.holder)
        publish(job, facts)


@contextmanager
def _own_folders(holder: str) -> Iterator[Path]:
    folder, staging = Path(settings.MEDIA_WORK_DIR) / holder, staging_folder(holder)
    folder.mkdir(parents=True)
    try:
        yield folder
    finally:
        shutil.rmtree(folder, ignore_errors=True)
        if staging is not None:
            shutil.rmtree(staging, ignore_errors=True)


def _fetch(clip: Clip, folder: Path) -> Path:
    """The original as a local file: where it lies, or a copy when the storage is elsewhere."""
    try:
        return Path(default_storage.path(clip.original))
    except NotImplementedError:
        copy = folder / "original"
        with default_storage.open(clip.original) as source, copy.open("wb") as target:
            shutil.copyfileobj(source, target, BLOCK)
        return copy
