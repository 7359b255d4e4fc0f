"""One at a time: whoever adds to a submission's clips, takes one out or moves one on locks the
submission's row first. Two who began at different rows would wait for each other, and PostgreSQL
would refuse one of them."""

from uuid import UUID

from reviews.intake.models import Clip, Submission


def lock_submission_of(clip_id: UUID) -> None:
    """Inside a transaction, before any other row of it is touched. Look again afterwards: the clip
    may be gone by then."""
    its = Clip.objects.filter(pk=clip_id).values("submission")
    Submission.objects.select_for_update().filter(pk__in=its).first()
