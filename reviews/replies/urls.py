"""Pages: the coach's workbench and the athlete's reading."""

from django.urls import path

from reviews.replies.views import (
    angle,
    ask_backs,
    athlete,
    athlete_faults,
    coming_sessions,
    correction,
    load_faults,
    submission,
    text_tracks,
    what_works,
    why,
    workbench,
)

urlpatterns = [
    path("today/", athlete.athlete_home, name="athlete-home"),
    path("replies/", athlete.replies, name="replies"),
    path("review/<uuid:pk>/", workbench.workbench, name="workbench"),
    path("review/<uuid:pk>/angle/", angle.angle, name="workbench-angle"),
    path("review/<uuid:pk>/angle/back/", angle.take_angle_back, name="workbench-angle-back"),
    path("review/<uuid:pk>/notes/<uuid:note_id>/change/", correction.change, name="correction"),
    path("review/<uuid:pk>/coming/", coming_sessions.sessions, name="coming-sessions"),
    path("people/<int:pk>/faults/", athlete_faults.faults, name="athlete-faults"),
    path("people/<int:pk>/load/faults/", load_faults.faults, name="load-faults"),
    path("why/<uuid:pk>/", why.prescription, name="why"),
    path("corrections/<uuid:pk>/back/", correction.back, name="correction-back"),
    path("submissions/<uuid:pk>/", submission.submission, name="submission"),
    path("submissions/<uuid:pk>/clips/", submission.clips, name="submission-clips"),
    path("submissions/<uuid:pk>/clips/<uuid:clip_id>/", submission.clip, name="submission-clip"),
    path(
        "submissions/<uuid:pk>/versions/<int:number>/<uuid:clip_id>/<slug:kind>.vtt",
        text_tracks.ReplyTrack.as_view(),
        name="reply-track",
    ),
    path("submissions/<uuid:pk>/understood/", submission.understand, name="submission-understood"),
    path("submissions/<uuid:pk>/ask/", submission.ask, name="submission-ask"),
    path(
        "submissions/<uuid:pk>/set-aside/", ask_backs.nothing_to_answer, name="submission-set-aside"
    ),
    path("library/<int:pk>/what-works/", what_works.works, name="what-works"),
    path("desk/asked-back/", ask_backs.asked, name="asked-back"),
]
