"""REST of the wings, under /api/v1/."""

from django.urls import include, path

urlpatterns = [
    path("", include("programming.logs.api_urls")),
]
