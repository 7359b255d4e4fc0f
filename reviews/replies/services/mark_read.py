"""What was on a reader's screen, or was understood."""

from uuid import UUID

from django.db import transaction
from django.utils import timezone

from athletes.models import User
from reviews.intake.models import Submission
from reviews.replies.models import Message, ProgrammeNotice, ReplyVersion


@transaction.atomic
def mark_understood(*, athlete: User, submission: Submission, number: int) -> bool:
    """Mark version `number` and what came before it. One transaction.

    The page names the version it showed, so that an update which arrived meanwhile stays unread.
    The first time counts; False when there was nothing left to mark.
    """
    read = ReplyVersion.objects.filter(
        reply__submission=submission,
        reply__submission__athlete=athlete,
        number__lte=number,
        understood_at=None,
    )
    return bool(read.update(understood_at=timezone.now()))


@transaction.atomic
def mark_messages_read(*, reader: User, submission: Submission) -> int:
    """The other side's messages have been on this reader's screen. One transaction."""
    unread = Message.objects.filter(submission=submission, read_at=None)
    if reader.is_coach:
        unread = unread.filter(author=submission.athlete_id)
    else:
        unread = unread.exclude(author=submission.athlete_id)
    return unread.update(read_at=timezone.now())


@transaction.atomic
def mark_notices_read(*, reader: User, submission_id: UUID) -> int:
    """The athlete opened the page that says it; a coach who reads along changes nothing. One
    transaction."""
    unread = ProgrammeNotice.objects.filter(
        reason__submission=submission_id, reason__submission__athlete=reader, read_at=None
    )
    return unread.update(read_at=timezone.now())
