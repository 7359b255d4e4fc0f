"""Pages: the coach's workbench and the athlete's reading."""

from django.urls import path

from reviews.replies.pages import home, reading, workbench

urlpatterns = [
    path("today/", home.athlete_home, name="athlete-home"),
    path("replies/", home.replies, name="replies"),
    path("review/<uuid:pk>/", workbench.workbench, name="workbench"),
    path("submissions/<uuid:pk>/", reading.submission, name="submission"),
    path("submissions/<uuid:pk>/clips/", reading.clips, name="submission-clips"),
    path("submissions/<uuid:pk>/understood/", reading.understand, name="submission-understood"),
    path("submissions/<uuid:pk>/ask/", reading.ask, name="submission-ask"),
]
