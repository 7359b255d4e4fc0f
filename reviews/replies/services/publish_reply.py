"""Sending the reply."""

from datetime import datetime
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from athletes.mail.services import enqueue_about
from athletes.models import User
from athletes.webhooks.models import Event
from athletes.webhooks.services import emit
from coachdesk.common.errors import Conflict, NotFound
from reviews.desk.claiming import release
from reviews.desk.models import Claim
from reviews.intake.models import State, Submission
from reviews.permissions import submissions_reviewable_by
from reviews.replies.models import ReplyVersion
from reviews.replies.permissions import NOT_HERE, submission_for_work
from reviews.replies.readiness import may_publish
from reviews.replies.reply_mails import REPLY
from reviews.replies.schemas.version import frozen_content
from reviews.replies.selectors.reviews import review_of
from reviews.replies.services.programme_notices import mark_told_by_version
from reviews.replies.services.record_rep_calls import record_calls
from reviews.replies.services.send_message import close_messages


@transaction.atomic
def publish_reply(
    *, coach: User, submission_id: UUID, sent_at: datetime | None = None
) -> ReplyVersion:
    """Send the reply: freeze it as the next version, answer the submission, give the claim back,
    and mail once all that is certain. One transaction. ``sent_at`` is for what was answered in the
    past (the demo's week); now, where it is not given.

    Asked again by the same coach when nothing has changed since (a lost answer, a second press),
    it returns the version that went out and sends nothing.

    Raises:
        NotFound: the submission is not this coach's to answer.
        Conflict: see `reviews.replies.readiness.may_publish`.
        ClaimedByOther, NotClaimed: see `reviews.desk.claiming.extend`.
    """
    found = submissions_reviewable_by(coach).select_for_update(of=("self",))
    submission = found.select_related("athlete").filter(pk=submission_id).first()
    if submission is None:
        raise NotFound(NOT_HERE)
    # Every save renews the claim's row; holding it keeps the words still while they are frozen.
    list(Claim.objects.select_for_update().filter(submission=submission))
    review = review_of(submission, coach)
    content = frozen_content(review)
    last = ReplyVersion.objects.filter(reply__submission=submission).first()
    if last is not None and last.sent_by_id == coach.pk and last.content == content:
        release(submission=submission, coach=coach)
        return last
    submission_for_work(coach=coach, submission_id=submission_id)
    verdict = may_publish(review)
    if not verdict.ok:
        raise Conflict(verdict.why)
    if review.reply.pk is None:
        review.reply.save()
    now = sent_at or timezone.now()
    version = ReplyVersion.objects.create(
        reply=review.reply,
        number=last.number + 1 if last else 1,
        content=content,
        sent_by=coach,
        sent_at=now,
    )
    mark_told_by_version(submission)
    record_calls(submission)
    Submission.objects.filter(pk=submission.pk).update(
        state=State.ANSWERED, answered_at=submission.answered_at or now, saved_at=now
    )
    close_messages(submission)
    release(submission=submission, coach=coach)
    enqueue_about(REPLY, version.pk)
    emit(
        club_id=submission.club_id,
        event=Event.REPLY_PUBLISHED,
        submission=str(submission.pk),
        version=version.number,
    )
    return version
