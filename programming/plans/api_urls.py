"""REST of the wing, under /api/v1/."""

from django.urls import path

from programming.plans.api import CellsView
from programming.plans.calendar_api import CalendarView
from programming.plans.copying_api import CopiedWeekView
from programming.plans.plates_api import PlatesView
from programming.plans.programmes_api import ChangesView, ProgrammesView, ProgrammeView

urlpatterns = [
    path("programmes/", ProgrammesView.as_view(), name="api-programmes"),
    path("programmes/<uuid:pk>/", ProgrammeView.as_view(), name="api-programme"),
    path("programmes/<uuid:pk>/changes/", ChangesView.as_view(), name="api-programme-changes"),
    path("programmes/<uuid:pk>/cells", CellsView.as_view(), name="api-cells"),
    path("programmes/<uuid:pk>/copied-week/", CopiedWeekView.as_view(), name="api-copied-week"),
    path("people/<int:pk>/plates/", PlatesView.as_view(), name="api-plates"),
    path("me/calendar/", CalendarView.as_view(), name="api-calendar"),
]
