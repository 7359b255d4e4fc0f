"""Telling the athlete what changed in the programme after their reply was sent.

A correction that a version of the reply holds is told by that version. What comes after it is told
by a notice: on Today until the reply's page was opened, on that page, and by mail.
"""

from datetime import timedelta

from django.db.models import QuerySet
from django.utils import timezone

from athletes.mail.services import enqueue_about, waiting_about
from athletes.models import User
from programming.models import Correction
from reviews.intake.models import Submission
from reviews.replies.models import CorrectionReason, NoticeEvent, ProgrammeNotice, ReplyVersion
from reviews.replies.reply_mails import NOTICE

# A coach who thinks again, or sends a new version of the reply, does it within minutes: then this
# need not be mailed.
MAIL_DELAY = timedelta(minutes=10)


def notify_applied(reason: CorrectionReason) -> None:
    """Inside the transaction that applies it; nothing where no reply was sent yet: it will say
    so."""
    if ReplyVersion.objects.filter(reply__submission=reason.submission_id).exists():
        _notify(reason, NoticeEvent.APPLIED)


def notify_withdrawn(correction: Correction, event: NoticeEvent) -> None:
    """Inside the transaction that takes it back or ends it. What the athlete was not told of is
    not told as withdrawn either."""
    reason = CorrectionReason.objects.filter(correction=correction).first()
    if reason is None:
        return
    unread = ProgrammeNotice.objects.filter(reason=reason, event=NoticeEvent.APPLIED, read_at=None)
    unheard = unread.filter(pk__in=waiting_about(NOTICE))
    if unheard.delete()[0] or not is_told(reason):
        return
    _notify(reason, event)


def _notify(reason: CorrectionReason, event: NoticeEvent) -> None:
    notice = ProgrammeNotice.objects.create(reason=reason, event=event)
    enqueue_about(NOTICE, notice.pk, due_at=timezone.now() + MAIL_DELAY)


def is_told(reason: CorrectionReason) -> bool:
    """A version of the reply or a notice told the athlete of this correction."""
    if ProgrammeNotice.objects.filter(reason=reason, event=NoticeEvent.APPLIED).exists():
        return True
    versions = ReplyVersion.objects.filter(reply__submission=reason.submission_id)
    changes = (change for version in versions for change in version.content["changes"])
    return any(change["correction"] == str(reason.correction_id) for change in changes)


def mark_told_by_version(submission: Submission) -> None:
    """A new version of the reply says itself what was applied. Inside its transaction."""
    unread = ProgrammeNotice.objects.filter(reason__submission=submission, read_at=None)
    unread.filter(event=NoticeEvent.APPLIED).update(read_at=timezone.now())


def unread_notices(athlete: User) -> QuerySet[ProgrammeNotice]:
    """For Today: one statement."""
    mine = ProgrammeNotice.objects.filter(reason__submission__athlete=athlete, read_at=None)
    return mine.select_related("reason__correction__made_by")
