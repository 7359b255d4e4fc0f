"""Addresses of the wing."""

from django.urls import path

from programming.logs import file_views

urlpatterns = [
    path("people/<int:pk>/file/", file_views.athlete_file, name="athlete-file"),
    path("people/<int:pk>/maxes/<int:movement_id>/", file_views.max_history, name="max-history"),
    path("me/maxes/", file_views.my_maxes, name="my-maxes"),
]
