"""The athlete says that a reply was read and understood."""

from django.db import transaction
from django.utils import timezone

from athletes.models import User
from reviews.intake.models import Submission
from reviews.replies.models import ReplyVersion


@transaction.atomic
def understood(*, athlete: User, submission: Submission, number: int) -> bool:
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
