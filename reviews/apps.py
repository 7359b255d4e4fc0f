from typing import Any

from django.apps import AppConfig
from django.db.models.signals import post_save


def give_starter_library(instance: Any, created: bool, raw: bool, **kwargs: Any) -> None:
    """A new club begins with the starter library; one restored from a copy brings its own."""
    from reviews.library.starting import install_starter

    if created and not raw:
        install_starter(instance)


class ReviewsConfig(AppConfig):
    name = "reviews"

    def ready(self) -> None:
        from reviews.desk import leaving as desk_leaving  # noqa: F401  (and claims with a coach)
        from reviews.intake import leaving  # noqa: F401  (a clip's files go with its row)
        from reviews.replies import reply_mails  # noqa: F401  (registers who writes its mails)

        # A receiver, because athletes (where clubs are made) must not know of reviews.
        post_save.connect(
            give_starter_library, sender="athletes.Club", dispatch_uid="starter library"
        )
