"""Asking an athlete for another angle, and taking that back."""

from django.db import transaction

from athletes.mail.services import enqueue_about
from athletes.models import User
from reviews.desk.claiming import ClaimedByOther, live_claim, release
from reviews.intake import angles
from reviews.intake.models import AngleRequest, Submission, View
from reviews.replies.reply_mails import ANGLE


@transaction.atomic
def request_angle(*, coach: User, submission: Submission, view: View, why: str) -> AngleRequest:
    """The submission waits on the athlete, the claim is given back, and the athlete is told by
    e-mail. One transaction.

    Raises:
        Conflict: see `reviews.intake.angles.open_request`.
        ClaimedByOther: another coach is answering it.
    """
    # Holds the submission's row first: a claim at the same moment waits here, then sees the state.
    angle = angles.open_request(submission=submission, coach=coach, view=view, why=why)
    held = live_claim(submission)
    if held is not None and held.coach_id != coach.pk:
        raise ClaimedByOther(held)
    release(submission=submission, coach=coach)
    enqueue_about(ANGLE, angle.pk)
    return angle
