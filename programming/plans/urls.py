"""Addresses of programmes and of what is trained from them: pages, and REST under /api/v1/.

The service worker lies in the folder of the day's session: that is its reach.
"""

from django.urls import path

from programming.plans import api as rest
from programming.plans.views import equipment, programmes, training

pages = [
    path("today/session/", training.training, name="training"),
    path("today/session/worker.js", training.worker, name="training-worker"),
    path("log/", training.training_log, name="training-log"),
    path("people/<int:pk>/log/", training.athlete_log, name="athlete-log"),
    path("people/<int:pk>/programme/", programmes.programme, name="programme"),
    path("people/<int:pk>/programme/start/", programmes.start, name="programme-start"),
    path("people/<int:pk>/plates/", equipment.plates, name="plates"),
    path("programmes/", programmes.programmes, name="programmes"),
    path("programmes/<uuid:pk>/", programmes.programme_grid, name="programme-grid"),
    path("programmes/<uuid:pk>/change/", programmes.change, name="programme-change"),
    path("programmes/<uuid:pk>/sheet/", training.sheet, name="programme-sheet"),
    path("me/programme/", training.my_programme, name="my-programme"),
    path("me/calendar/", equipment.calendar_settings, name="calendar-settings"),
    path("calendar/<str:token>.ics", equipment.feed, name="calendar-feed"),
]
api = [
    path("training/", rest.TrainingDayView.as_view(), name="api-today"),
    path("programmes/", rest.ProgrammesView.as_view(), name="api-programmes"),
    path("programmes/<uuid:pk>/", rest.ProgrammeView.as_view(), name="api-programme"),
    path("programmes/<uuid:pk>/changes/", rest.ChangesView.as_view(), name="api-programme-changes"),
    path("programmes/<uuid:pk>/cells", rest.CellsView.as_view(), name="api-cells"),
    path("programmes/<uuid:pk>/copied-week/", rest.CopiedView.as_view(), name="api-copied-week"),
    path("people/<int:pk>/plates/", rest.PlatesView.as_view(), name="api-plates"),
    path("me/calendar/", rest.CalendarView.as_view(), name="api-calendar"),
]
