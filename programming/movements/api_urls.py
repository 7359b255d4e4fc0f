"""REST of movements, under /api/v1/."""

from django.urls import path

from programming.movements import api

urlpatterns = [
    path("movements/", api.MovementsView.as_view(), name="api-movements"),
    path("movements/<int:pk>/", api.MovementView.as_view(), name="api-movement"),
    path(
        "movements/<int:pk>/retire/",
        api.RetireMovementView.as_view(),
        name="api-movement-retire",
    ),
    path(
        "movements/<int:pk>/bring-back/",
        api.BringBackMovementView.as_view(),
        name="api-movement-bring-back",
    ),
    path("movements/<int:pk>/rebuild/", api.RebuildView.as_view(), name="api-movement-rebuild"),
]
