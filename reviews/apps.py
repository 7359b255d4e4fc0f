from django.apps import AppConfig


class ReviewsConfig(AppConfig):
    name = "reviews"

    def ready(self) -> None:
        from reviews.intake import leaving  # noqa: F401  (a clip's files go with its row)
