"""Addresses of the wing."""

from django.urls import path

from programming.plans.pages import calendar, change, grid, plates, reading, start

urlpatterns = [
    path("people/<int:pk>/programme/", grid.programme, name="programme"),
    path("people/<int:pk>/programme/start/", start.start, name="programme-start"),
    path("people/<int:pk>/plates/", plates.plates, name="plates"),
    path("programmes/", start.programmes, name="programmes"),
    path("programmes/<uuid:pk>/", grid.programme_grid, name="programme-grid"),
    path("programmes/<uuid:pk>/change/", change.change, name="programme-change"),
    path("programmes/<uuid:pk>/sheet/", reading.sheet, name="programme-sheet"),
    path("me/programme/", reading.my_programme, name="my-programme"),
    path("me/calendar/", calendar.settings, name="calendar-settings"),
    path("calendar/<str:token>.ics", calendar.feed, name="calendar-feed"),
]
