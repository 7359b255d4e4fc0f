"""The gate before every change of a review: a coach of the club, who holds the live claim."""

from uuid import UUID

from athletes.models import User
from coachdesk.common.errors import NotFound
from reviews.desk.claiming import extend
from reviews.intake.models import Clip, Submission
from reviews.permissions import clips_reviewable_by, submissions_reviewable_by

NOT_HERE = "There is nothing here for you to change."


def submission_for_work(*, coach: User, submission_id: UUID) -> Submission:
    """The submission, with its claim renewed. Call it inside the transaction that changes it.

    Raises:
        NotFound: it is not this coach's to answer.
        ClaimedByOther, NotClaimed: see `reviews.desk.claiming.extend`.
    """
    found = submissions_reviewable_by(coach).filter(pk=submission_id)
    submission = found.select_related("athlete").first()
    if submission is None:
        raise NotFound(NOT_HERE)
    extend(submission=submission, coach=coach)
    return submission


def clip_for_work(*, coach: User, clip_id: UUID) -> Clip:
    """The clip, with its submission's claim renewed; raises what `submission_for_work` does."""
    found = clips_reviewable_by(coach).filter(pk=clip_id)
    clip = found.select_related("submission").first()
    if clip is None:
        raise NotFound(NOT_HERE)
    extend(submission=clip.submission, coach=coach)
    return clip
