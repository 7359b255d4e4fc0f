"""Pages of the wings."""

from django.urls import include, path

urlpatterns = [
    path("", include("programming.movements.urls")),
    path("", include("programming.logs.urls")),
    path("", include("programming.plans.urls")),
    path("", include("programming.corrections.urls")),
]
