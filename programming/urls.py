"""Pages of the wings."""

from django.urls import include, path

from programming.plans import today_urls

urlpatterns = [
    *today_urls.pages,
    path("", include("programming.movements.urls")),
    path("", include("programming.logs.urls")),
    path("", include("programming.plans.urls")),
    path("", include("programming.corrections.urls")),
]
