"""Writing the reply."""

from collections.abc import Sequence
from datetime import date
from typing import Any
from uuid import UUID

from django.db import transaction

from athletes.local_time import long_date, today_of
from athletes.models import User
from coachdesk.common.errors import Invalid
from reviews.intake.models import Submission
from reviews.replies.models import Note, Reply
from reviews.replies.permissions import submission_for_work


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
