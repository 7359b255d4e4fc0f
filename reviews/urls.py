"""Pages and media of the four wings."""

from django.urls import include, path

urlpatterns = [
    path("", include("reviews.intake.urls")),
    path("", include("reviews.library.urls")),
    path("", include("reviews.desk.urls")),
    path("", include("reviews.replies.urls")),
]
