"""Addresses of the log: pages, and REST under /api/v1/."""

from django.urls import path

import coachdesk.common.url_converters  # noqa: F401  registers <day:...>
from programming.logs import api as rest
from programming.logs.csv import api as csv_rest
from programming.logs.csv.views import check, export_athlete_log, export_log, import_log
from programming.logs.views import load_pages, max_pages

pages = [
    path("people/<int:pk>/file/", max_pages.athlete_file, name="athlete-file"),
    path("people/<int:pk>/maxes/<int:movement_id>/", max_pages.max_history, name="max-history"),
    path("me/maxes/", max_pages.my_maxes, name="my-maxes"),
    path("people/<int:pk>/load/", load_pages.athlete_load, name="athlete-load"),
    path("load/", load_pages.my_load, name="my-load"),
    path("log/import/", import_log, name="log-import"),
    path("log/import/check/", check, name="log-import-check"),
    path("log/export.csv", export_log, name="log-export"),
    path("people/<int:pk>/log/export.csv", export_athlete_log, name="athlete-log-export"),
]
api = [
    path("log/", rest.SessionsView.as_view(), name="api-log"),
    path("log/import/", csv_rest.ImportView.as_view(), name="api-log-import"),
    path("people/<int:pk>/log.csv", csv_rest.ExportView.as_view(), name="api-log-export"),
    path("body-weights/", rest.BodyWeightsView.as_view(), name="api-body-weights"),
    path("load/", rest.LoadView.as_view(), name="api-load"),
    path("maxes/", rest.MaxesView.as_view(), name="api-maxes"),
    path("log/<uuid:session_id>/", rest.SessionView.as_view(), name="api-log-session"),
    path("log/<uuid:session_id>/sets/<uuid:set_id>/", rest.SetView.as_view(), name="api-log-set"),
    path("body-weights/<day:day>/", rest.BodyWeightView.as_view(), name="api-body-weight"),
]
