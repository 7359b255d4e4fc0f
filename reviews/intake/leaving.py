"""When a clip's row goes, by whatever cascade, its original and what was derived go too."""

from typing import Any

from django.core.files.storage import default_storage
from django.db import transaction
from django.db.models.signals import post_delete
from django.dispatch import receiver

from reviews.intake.models import Clip
from reviews.intake.publishing import remove_unused


@receiver(post_delete, sender=Clip, dispatch_uid="a clip leaves")
def remove_files(instance: Clip, **kwargs: Any) -> None:
    """After the commit: a deletion that is rolled back must cost no file."""

    def remove() -> None:
        if instance.original:
            default_storage.delete(instance.original)
        remove_unused(instance.sha256)

    transaction.on_commit(remove)
