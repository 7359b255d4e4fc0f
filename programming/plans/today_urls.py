"""Addresses of the page an athlete trains from, and of the log by weeks.

The service worker lies in the page's own folder: that is its reach.
"""

from django.urls import path

from programming.plans.logbook_views import athlete_log, training_log
from programming.plans.today_views import TodayView, training, worker

pages = [
    path("today/session/", training, name="training"),
    path("today/session/worker.js", worker, name="training-worker"),
    path("log/", training_log, name="training-log"),
    path("people/<int:pk>/log/", athlete_log, name="athlete-log"),
]
api = [path("training/", TodayView.as_view(), name="api-today")]
