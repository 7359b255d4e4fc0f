"""Removing a clip before its video is answered for; its stored files go in leaving.py."""

from django.db import transaction

from reviews.intake.models import Clip
from reviews.intake.partial import Partial


def delete_clip(clip: Clip) -> None:
    """Inside a transaction: the rows now, what was still arriving when it is committed."""
    partials = [Partial(pk) for pk in clip.uploads.values_list("pk", flat=True)]
    clip.delete()
    for partial in partials:
        transaction.on_commit(partial.drop)
