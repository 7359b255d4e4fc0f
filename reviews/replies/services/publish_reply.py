"""Writing the reply and sending it."""

from collections.abc import Sequence
from datetime import date, datetime
from typing import Any
from uuid import UUID

from django.db import transaction
from django.utils import timezone

from athletes.local_time import long_date, today_of
from athletes.mail.services import enqueue_about
from athletes.models import User
from athletes.webhooks.models import Event
from athletes.webhooks.services import emit
from coachdesk.common.errors import Conflict, Invalid, NotFound
from reviews.desk.claiming import release
from reviews.desk.models import Claim
from reviews.intake.models import State, Submission
from reviews.permissions import submissions_reviewable_by
from reviews.replies.mail_kinds import REPLY
from reviews.replies.models import Note, Reply, ReplyVersion
from reviews.replies.permissions import NOT_HERE, submission_for_work
from reviews.replies.readiness import may_publish
from reviews.replies.schemas.version import frozen
from reviews.replies.selectors.reviews import review_of
from reviews.replies.services.programme_notices import mark_told_by_version
from reviews.replies.services.record_rep_calls import record_calls
from reviews.replies.services.send_message import answered


@transaction.atomic
def save_reply(
    *,
    coach: User,
    submission_id: UUID,
    fields: dict[str, Any],
    ranks: Sequence[UUID] | None = None,
) -> Reply:
    """Save what was typed: only the named of opening, film_again_by, film_again_note. One
    transaction. `ranks` names the notes that are focus points, in order; every other note of the
    review is left for now.

    Raises:
        NotFound: the submission is not this coach's to answer.
        Invalid: a day that has passed, or a note of another review.
        ClaimedByOther, NotClaimed: see `reviews.desk.claiming.extend`.
    """
    submission = submission_for_work(coach=coach, submission_id=submission_id)
    _check_day(fields.get("film_again_by"), submission.athlete)
    reply, _ = Reply.objects.update_or_create(submission=submission, defaults=fields)
    if ranks is not None:
        _rank(submission, ranks)
    return reply


def _check_day(day: date | None, athlete: User) -> None:
    if day is not None and day < today_of(athlete):
        raise Invalid(f"{long_date(day)} has passed. Pick a later day to film again by.")


def _rank(submission: Submission, ranks: Sequence[UUID]) -> None:
    notes = Note.objects.filter(clip__submission=submission)
    if notes.filter(pk__in=ranks).count() != len(set(ranks)):
        raise Invalid("A note in this order is gone. Load the page again.")
    notes.exclude(pk__in=ranks).update(rank=None)
    for rank, note in enumerate(ranks, start=1):
        notes.filter(pk=note).update(rank=rank)


@transaction.atomic
def publish(*, coach: User, submission_id: UUID, sent_at: datetime | None = None) -> ReplyVersion:
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
    content = frozen(submission, review)
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
    answered(submission)
    release(submission=submission, coach=coach)
    enqueue_about(REPLY, version.pk)
    emit(
        club_id=submission.club_id,
        event=Event.REPLY_PUBLISHED,
        submission=str(submission.pk),
        version=version.number,
    )
    return version
