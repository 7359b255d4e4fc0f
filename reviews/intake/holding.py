"""One at a time: whoever adds to a question's clips, takes one out or moves one on holds the
question's row first. Two who began at different rows would wait for each other, and PostgreSQL
would refuse one of them."""

from uuid import UUID

from reviews.intake.models import Clip, Submission


def hold_question_of(clip_id: UUID) -> None:
    """Inside a transaction, before any other row of it is touched. Look again afterwards: the clip
    may be gone by then."""
    question = Clip.objects.filter(pk=clip_id).values("submission")
    Submission.objects.select_for_update().filter(pk__in=question).first()
