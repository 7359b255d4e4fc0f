"""Addresses of the wing."""

from django.urls import path

from programming.movements import views

urlpatterns = [
    path("movements/", views.movements, name="movements"),
    path("movements/add/", views.add, name="movement-add"),
    path("movements/<int:pk>/edit/", views.edit, name="movement-edit"),
    path("movements/<int:pk>/retire/", views.retire, name="movement-retire"),
    path("movements/<int:pk>/bring-back/", views.bring_back, name="movement-bring-back"),
    path("movements/<int:pk>/rebuild/", views.rebuild, name="movement-rebuild"),
]
