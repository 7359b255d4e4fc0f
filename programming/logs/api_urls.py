"""REST of the log."""

from django.urls import path

import programming.converters  # noqa: F401  registers <day:...>
from programming.logs.api import BodyWeightView, SessionView, SetView

urlpatterns = [
    path("log/<uuid:session_id>/", SessionView.as_view(), name="api-log-session"),
    path("log/<uuid:session_id>/sets/<uuid:set_id>/", SetView.as_view(), name="api-log-set"),
    path("body-weights/<day:day>/", BodyWeightView.as_view(), name="api-body-weight"),
]
