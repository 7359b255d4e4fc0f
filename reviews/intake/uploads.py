"""Resumable uploads: begin, receive, end, and what the sweeper does for those left behind.

The protocol's own words are in tus.py, its doors in tus_views.py.
"""

import shutil
import time
from contextlib import suppress
from datetime import timedelta
from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db import transaction
from django.db.models import Q
from django.utils.timezone import now

from athletes.models import User
from reviews.intake.finishing import finish, is_stranded
from reviews.intake.locking import lock_submission_of
from reviews.intake.models import Clip, ClipState, State, Upload
from reviews.intake.partial import Partial, TakenOver
from reviews.intake.quota import refusal, room_of, size
from reviews.intake.receiving import Stream, store, store_checked
from reviews.permissions import clips_sendable_by

SPARE_BYTES = 512 * 1024**2  # kept free, or the derived files of clips already in cannot be made
ORPHAN_SECONDS = 3600
DROPPED = (
    "This clip stopped arriving and was dropped after {hours} hours. Pick it again and send it."
)


class Refused(Exception):
    """Why an upload cannot begin: an HTTP status and a sentence for the athlete."""

    def __init__(self, status: int, sentence: str) -> None:
        super().__init__(sentence)
        self.status = status


def begin(*, owner: User, clip_id: UUID, length: int, filename: str, metadata: str) -> Upload:
    """Make the upload of a clip. Raises Refused. A clip has one: a new one replaces the old.

    One transaction, under the owner's row: two at once cannot both use the last of the quota.
    """
    with transaction.atomic():
        lock_submission_of(clip_id)
        User.objects.select_for_update().get(pk=owner.pk)
        clip = clips_sendable_by(owner).filter(pk=clip_id).first()
        if clip is None:
            raise Refused(404, "There is no such clip. Open the submission again and add one.")
        if clip.state != ClipState.RECEIVING:
            raise Refused(409, "This clip has its video already. Add another clip for another one.")
        before = list(clip.uploads.all())
        for upload in before:
            _forget(upload)
        _refuse_without_room(owner, length)
        clip.filename, clip.size = filename[:200], length
        clip.save(update_fields=["filename", "size"])
        upload = Upload.objects.create(
            owner=owner, clip=clip, length=length, metadata=metadata, expires_at=_expiry()
        )
        Partial(upload.id).create()
    return upload


def _refuse_without_room(owner: User, length: int) -> None:
    sentence = refusal(room_of(owner), length)
    if sentence:
        raise Refused(413 if length else 400, sentence)
    folder = Path(settings.UPLOAD_DIR)
    folder.mkdir(parents=True, exist_ok=True)
    if shutil.disk_usage(folder).free < length + SPARE_BYTES:
        raise Refused(
            507,
            f"The server has no room for {size(length)} now. Your draft is kept: tell "
            "your coach, and send the clip later.",
        )


def _expiry() -> Any:
    return now() + timedelta(hours=settings.UPLOAD_EXPIRES_HOURS)


def is_expired(upload: Upload) -> bool:
    return upload.expires_at <= now()


def offset_of(upload: Upload) -> int:
    """Where the client goes on, after asking any writer to stop; finishes what was left whole.

    Raises FileNotFoundError when the bytes are gone.
    """
    if upload.finished_at is None:
        partial = Partial(upload.id)
        moved = False
        try:
            partial.take_turn()
            upload.offset = partial.stored()
        except (TakenOver, FileNotFoundError):
            moved = True  # finished this moment, by whoever brought the last byte, or gone
        finish_if_whole(upload)
        if moved and upload.finished_at is None:
            raise FileNotFoundError(partial.path)
    return upload.length if upload.finished_at else upload.offset


def receive(
    upload: Upload, stream: Stream, *, at: int, length: int, checked: tuple[Any, bytes] | None
) -> int:
    """Add at most `length` bytes at offset `at`; the new offset. Then call `finish_if_whole`.

    `checked` is a hash object and the digest the bytes must have. Raises TakenOver, DiskFull,
    Mismatch.
    """
    turn = Partial(upload.id).take_turn()

    def tell(offset: int) -> None:
        _remember(upload, offset)

    if checked is None:
        offset = store(turn, stream, at=at, length=length, tell=tell)
    else:
        digest, expected = checked
        offset = store_checked(turn, stream, at=at, length=length, digest=digest, expected=expected)
    _remember(upload, offset)
    return offset


def _remember(upload: Upload, offset: int) -> None:
    """Tell the pages. Only forward, so that a writer that was overtaken cannot turn it back."""
    upload.offset, upload.expires_at = offset, _expiry()
    Upload.objects.filter(pk=upload.pk, offset__lte=offset).update(
        offset=offset, expires_at=upload.expires_at
    )


def finish_if_whole(upload: Upload) -> None:
    """Hand the video over once its last byte is here; nothing to do, and no harm, otherwise."""
    if upload.finished_at is None and is_stranded(upload):
        finish(upload)
        upload.refresh_from_db()


def terminate(upload: Upload) -> None:
    """End an upload and free its bytes. What has become a clip's original stays the clip's."""
    with transaction.atomic():
        _forget(upload)


def _forget(upload: Upload) -> None:
    """Inside a transaction: the row now, the bytes once it is committed."""
    partial = Partial(upload.id)
    Upload.objects.filter(pk=upload.pk).delete()
    transaction.on_commit(partial.drop)


def finish_stranded() -> int:
    """Hand over every upload that is whole but was interrupted before its row knew; how many."""
    count = 0
    for upload in [u for u in Upload.objects.filter(finished_at=None) if is_stranded(u)]:
        with suppress(FileNotFoundError):  # taken out since we looked
            finish(upload)
            count += 1
    return count


def drop_expired() -> int:
    """Drop what expired, and files that no row knows; how many uploads went.

    A clip whose video never came all the way says so, with what to do.
    """
    expired = Upload.objects.filter(expires_at__lte=now()).select_related("clip")
    count = 0
    for upload in expired:
        with transaction.atomic():
            lock_submission_of(upload.clip_id)
            # Written since we looked: then it lives on.
            if not Upload.objects.filter(pk=upload.pk, expires_at__lte=now()).exists():
                continue
            if upload.finished_at is None:
                _say_it_was_dropped(upload.clip_id)
            _forget(upload)
            count += 1
    _drop_orphans()
    return count


def _say_it_was_dropped(clip_id: UUID) -> None:
    arriving = Q(state=ClipState.RECEIVING) & ~Q(submission__state=State.DRAFT)
    Clip.objects.filter(arriving, pk=clip_id).update(
        state=ClipState.FAILED, reason=DROPPED.format(hours=settings.UPLOAD_EXPIRES_HOURS)
    )


def _drop_orphans() -> None:
    """Files of uploads whose row is gone: a process killed between a commit and its clean-up."""
    folder = Path(settings.UPLOAD_DIR)
    known = {pk.hex for pk in Upload.objects.values_list("pk", flat=True)}
    for path in folder.iterdir() if folder.is_dir() else []:
        age = time.time() - path.stat().st_mtime
        if path.name.partition(".")[0] not in known and age > ORPHAN_SECONDS:
            path.unlink(missing_ok=True)
