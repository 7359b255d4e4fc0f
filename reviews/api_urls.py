"""REST of the four wings, under /api/v1/."""

from django.urls import include, path

urlpatterns = [
    path("", include("reviews.intake.api_urls")),
    path("", include("reviews.library.api_urls")),
    path("", include("reviews.desk.api_urls")),
    path("", include("reviews.replies.api_urls")),
]
