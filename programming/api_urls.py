"""REST of the wings, under /api/v1/."""

from django.urls import include, path

from programming.plans import today_urls

urlpatterns = [
    *today_urls.api,
    path("", include("programming.movements.api_urls")),
    path("", include("programming.logs.api_urls")),
    path("", include("programming.plans.api_urls")),
]
