"""From the last byte to a clip that is being made ready. Safe to run twice, or after kill -9.

The order is: the file to its final name, then the row. A crash between the two leaves a partial
that has moved and a row that does not know; the next HEAD, PATCH or sweep comes through here again
and finds the original under its name, which only this upload can have.
"""

import os
from pathlib import PurePath

from django.core.files import File
from django.core.files.storage import default_storage
from django.db import transaction
from django.utils.timezone import now

from reviews.intake import jobs
from reviews.intake.locking import lock_submission_of
from reviews.intake.models import Clip, ClipState, Upload
from reviews.intake.partial import Partial, locked
from reviews.intake.receiving import sha256_of

KINDS = {".mp4", ".m4v", ".mov", ".mkv", ".webm", ".3gp"}


class Whole(File):
    """A finished partial; naming its path lets a storage on the same disk take it by renaming."""

    def temporary_file_path(self) -> str:
        return self.name or ""


def original_name(upload: Upload) -> str:
    """The original's storage name. The extension is a courtesy and is never trusted."""
    suffix = PurePath(upload.clip.filename).suffix.lower()
    kind = suffix if suffix in KINDS else ".bin"
    return f"originals/{upload.id.hex[:2]}/{upload.id}{kind}"


def is_stranded(upload: Upload) -> bool:
    """Whether every byte is here, or was, while the row still says it is arriving."""
    try:
        return Partial(upload.id).stored() == upload.length
    except FileNotFoundError:
        return _arrived(upload)


def _arrived(upload: Upload) -> bool:
    name = original_name(upload)
    return default_storage.exists(name) and default_storage.size(name) == upload.length


def finish(upload: Upload) -> None:
    """Hash, move and hand over to processing. Raises FileNotFoundError if the bytes are gone, or
    the clip was taken out meanwhile."""
    partial = Partial(upload.id)
    # Two finishers would move the same file; the second waits here and then finds it done.
    with locked(partial.turn_path, os.O_RDWR | os.O_CREAT):
        try:
            upload.refresh_from_db()
        except Upload.DoesNotExist:
            raise FileNotFoundError(partial.path) from None
        if upload.finished_at:
            return
        name = original_name(upload)
        digest = _move(partial, name) if partial.exists else _adopt(upload, name)
        if not _hand_over(upload=upload, name=name, digest=digest):
            default_storage.delete(name)
            raise FileNotFoundError(name)
    partial.drop()


def _move(partial: Partial, name: str) -> str:
    partial.take_turn()  # whoever still writes stops before the file gets its final name
    with partial.path.open("rb") as file:
        digest = sha256_of(file)
        if default_storage.exists(name):  # a move that was cut short; the partial is still whole
            default_storage.delete(name)
        kept = default_storage.save(name, Whole(file, name=str(partial.path)))
    if kept != name:
        raise FileExistsError(f"{name} appeared while it was being stored")
    return digest


def _adopt(upload: Upload, name: str) -> str:
    if not _arrived(upload):
        raise FileNotFoundError(name)
    with default_storage.open(name) as file:
        return sha256_of(file)


@transaction.atomic
def _hand_over(*, upload: Upload, name: str, digest: str) -> bool:
    """One transaction: the upload is finished, the clip has its original, the job is queued. False
    when the upload is gone."""
    lock_submission_of(upload.clip_id)
    if not Upload.objects.filter(pk=upload.pk).exists():
        return False
    finished = Upload.objects.filter(pk=upload.pk, finished_at=None).update(
        offset=upload.length, finished_at=now()
    )
    if not finished:
        return True
    clip = Clip.objects.select_for_update().get(pk=upload.clip_id)
    clip.original, clip.sha256, clip.size = name, digest, upload.length
    clip.state, clip.reason = ClipState.PROCESSING, ""
    clip.save(update_fields=["original", "sha256", "size", "state", "reason"])
    jobs.enqueue(clip)
    return True
