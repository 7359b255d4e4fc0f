"""Removing a clip's bytes, once its row is gone for certain."""

from django.core.files.storage import default_storage
from django.db import transaction

from reviews.intake.models import Clip
from reviews.intake.partial import Partial


def delete_clip(clip: Clip) -> None:
    """Inside a transaction: the rows now, the bytes when it is committed."""
    partials = [Partial(pk) for pk in clip.uploads.values_list("pk", flat=True)]
    original, sha256, derived = clip.original, clip.sha256, clip.derived_folder
    clip.delete()

    def forget() -> None:
        for partial in partials:
            partial.drop()
        if original:
            default_storage.delete(original)
        # Derived files are shared by content: the same video may be somebody's other clip.
        if sha256 and not Clip.objects.filter(sha256=sha256).exists():
            _delete_folder(derived)

    transaction.on_commit(forget)


def _delete_folder(name: str) -> None:
    if not default_storage.exists(name):
        return
    for file in default_storage.listdir(name)[1]:
        default_storage.delete(f"{name}/{file}")
    default_storage.delete(name)
