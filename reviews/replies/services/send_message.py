"""Asking back: athlete and coach write to each other below a submission."""

from django.db import transaction

from athletes.mail.services import enqueue_about
from athletes.models import User
from coachdesk.common.errors import Invalid, NotFound
from reviews.intake.models import Submission
from reviews.permissions import submissions_reviewable_by, submissions_visible_to
from reviews.replies.models import Message
from reviews.replies.permissions import NOT_HERE
from reviews.replies.reply_mails import MESSAGE

LONGEST = 2000


@transaction.atomic
def send_message(*, author: User, submission: Submission, text: str) -> Message:
    """Add to the talk and tell the other side by e-mail. One transaction.

    The same words twice in a row are one message: a page whose answer was lost sends them again.

    Raises:
        NotFound: the author may not see this submission, or it was never sent.
        Invalid: nothing was written, or too much.
    """
    seen = submissions_visible_to(author).filter(pk=submission.pk, sent_at__isnull=False)
    if not seen.exists():
        raise NotFound(NOT_HERE)
    text = text.strip()
    if not text:
        raise Invalid("Write your question first.")
    if len(text) > LONGEST:
        raise Invalid(f"That is {len(text)} characters; {LONGEST} fit. Send it in two parts.")
    Submission.objects.select_for_update().get(pk=submission.pk)  # two at once make one
    last = Message.objects.filter(submission=submission).last()
    if last and last.author_id == author.pk and last.text == text:
        return last
    asks = author.pk == submission.athlete_id
    if not asks:
        close_messages(submission)
    message = Message.objects.create(submission=submission, author=author, text=text, open=asks)
    enqueue_about(MESSAGE, message.pk)
    return message


def close_messages(submission: Submission) -> int:
    """What the athlete wrote stands on the desk no longer. Call it inside the transaction of what
    answers it: a message, or a new version of the reply."""
    return Message.objects.filter(submission=submission, open=True).update(open=False)


@transaction.atomic
def set_aside(*, coach: User, submission: Submission) -> int:
    """A coach has read it and there is nothing to answer ("thanks"). One transaction.

    Raises:
        NotFound: it is not this coach's to answer.
    """
    if not submissions_reviewable_by(coach).filter(pk=submission.pk).exists():
        raise NotFound(NOT_HERE)
    return close_messages(submission)
