"""Pages: the coach's workbench and the athlete's reading."""

from django.urls import path

from reviews.replies.pages import (
    angle,
    asked,
    athlete_faults,
    coming,
    correcting,
    home,
    load_faults,
    reading,
    tracks,
    what_works,
    why,
    workbench,
)

urlpatterns = [
    path("today/", home.athlete_home, name="athlete-home"),
    path("replies/", home.replies, name="replies"),
    path("review/<uuid:pk>/", workbench.workbench, name="workbench"),
    path("review/<uuid:pk>/angle/", angle.angle, name="workbench-angle"),
    path("review/<uuid:pk>/angle/back/", angle.take_angle_back, name="workbench-angle-back"),
    path("review/<uuid:pk>/notes/<uuid:note_id>/change/", correcting.change, name="correction"),
    path("review/<uuid:pk>/coming/", coming.sessions, name="coming-sessions"),
    path("people/<int:pk>/faults/", athlete_faults.faults, name="athlete-faults"),
    path("people/<int:pk>/load/faults/", load_faults.faults, name="load-faults"),
    path("why/<uuid:pk>/", why.prescription, name="why"),
    path("corrections/<uuid:pk>/back/", correcting.back, name="correction-back"),
    path("submissions/<uuid:pk>/", reading.submission, name="submission"),
    path("submissions/<uuid:pk>/clips/", reading.clips, name="submission-clips"),
    path("submissions/<uuid:pk>/clips/<uuid:clip_id>/", reading.clip, name="submission-clip"),
    path(
        "submissions/<uuid:pk>/versions/<int:number>/<uuid:clip_id>/<slug:kind>.vtt",
        tracks.ReplyTrack.as_view(),
        name="reply-track",
    ),
    path("submissions/<uuid:pk>/understood/", reading.understand, name="submission-understood"),
    path("submissions/<uuid:pk>/ask/", reading.ask, name="submission-ask"),
    path("submissions/<uuid:pk>/set-aside/", asked.nothing_to_answer, name="submission-set-aside"),
    path("library/<int:pk>/what-works/", what_works.works, name="what-works"),
    path("desk/asked-back/", asked.asked, name="asked-back"),
]
