"""Addresses of movements: pages, and REST under /api/v1/."""

from django.urls import path

from programming.movements import api as rest
from programming.movements import views

pages = [
    path("movements/", views.movements, name="movements"),
    path("movements/add/", views.add, name="movement-add"),
    path("movements/<int:pk>/edit/", views.edit, name="movement-edit"),
    path("movements/<int:pk>/retire/", views.retire, name="movement-retire"),
    path("movements/<int:pk>/bring-back/", views.restore, name="movement-bring-back"),
    path("movements/<int:pk>/rebuild/", views.rebuild, name="movement-rebuild"),
]
api = [
    path("movements/", rest.MovementsView.as_view(), name="api-movements"),
    path("movements/<int:pk>/", rest.MovementView.as_view(), name="api-movement"),
    path(
        "movements/<int:pk>/retire/",
        rest.RetireMovementView.as_view(),
        name="api-movement-retire",
    ),
    path(
        "movements/<int:pk>/bring-back/",
        rest.RestoreMovementView.as_view(),
        name="api-movement-bring-back",
    ),
    path("movements/<int:pk>/rebuild/", rest.RebuildView.as_view(), name="api-movement-rebuild"),
]
