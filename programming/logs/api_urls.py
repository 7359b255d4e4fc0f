"""REST of the log."""

from django.urls import path

import coachdesk.common.url_converters  # noqa: F401  registers <day:...>
from programming.logs import reading_api
from programming.logs.api import BodyWeightView, SessionView, SetView
from programming.logs.csv.api import ExportView, ImportView

urlpatterns = [
    path("log/", reading_api.LogView.as_view(), name="api-log"),
    path("log/import/", ImportView.as_view(), name="api-log-import"),
    path("people/<int:pk>/log.csv", ExportView.as_view(), name="api-log-export"),
    path("body-weights/", reading_api.BodyWeightsView.as_view(), name="api-body-weights"),
    path("load/", reading_api.LoadView.as_view(), name="api-load"),
    path("maxes/", reading_api.MaxesView.as_view(), name="api-maxes"),
    path("log/<uuid:session_id>/", SessionView.as_view(), name="api-log-session"),
    path("log/<uuid:session_id>/sets/<uuid:set_id>/", SetView.as_view(), name="api-log-set"),
    path("body-weights/<day:day>/", BodyWeightView.as_view(), name="api-body-weight"),
]
