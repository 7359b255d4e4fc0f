"""Addresses of the wing."""

from django.urls import path

from programming.logs import file_views, load_views
from programming.logs.csv.views import check, export_athlete_log, export_log, import_log

urlpatterns = [
    path("people/<int:pk>/file/", file_views.athlete_file, name="athlete-file"),
    path("people/<int:pk>/maxes/<int:movement_id>/", file_views.max_history, name="max-history"),
    path("me/maxes/", file_views.my_maxes, name="my-maxes"),
    path("people/<int:pk>/load/", load_views.athlete_load, name="athlete-load"),
    path("load/", load_views.my_load, name="my-load"),
    path("log/import/", import_log, name="log-import"),
    path("log/import/check/", check, name="log-import-check"),
    path("log/export.csv", export_log, name="log-export"),
    path("people/<int:pk>/log/export.csv", export_athlete_log, name="athlete-log-export"),
]
