"""Pages: the coach's workbench and the athlete's reading."""

from django.urls import path

from reviews.replies.views import (
    angle_request,
    athlete_home,
    coming_sessions,
    correction,
    page_parts,
    reply_pages,
    track_files,
    why,
    workbench,
)

urlpatterns = [
    path("today/", athlete_home.athlete_home, name="athlete-home"),
    path("replies/cue/", page_parts.last_cue_part, name="reply-cue"),
    path("replies/", athlete_home.replies, name="replies"),
    path("review/<uuid:pk>/", workbench.workbench, name="workbench"),
    path("review/<uuid:pk>/angle/", angle_request.angle, name="workbench-angle"),
    path(
        "review/<uuid:pk>/angle/back/", angle_request.take_angle_back, name="workbench-angle-back"
    ),
    path("review/<uuid:pk>/notes/<uuid:note_id>/change/", correction.change, name="correction"),
    path("review/<uuid:pk>/coming/", coming_sessions.sessions, name="coming-sessions"),
    path("people/<int:pk>/faults/", page_parts.athlete_faults_part, name="athlete-faults"),
    path("people/<int:pk>/load/faults/", page_parts.load_faults, name="load-faults"),
    path("why/<uuid:pk>/", why.prescription, name="why"),
    path("corrections/<uuid:pk>/back/", correction.back, name="correction-back"),
    path("submissions/<uuid:pk>/", reply_pages.submission, name="submission"),
    path("submissions/<uuid:pk>/clips/", reply_pages.clips, name="submission-clips"),
    path("submissions/<uuid:pk>/clips/<uuid:clip_id>/", reply_pages.clip, name="submission-clip"),
    path(
        "submissions/<uuid:pk>/versions/<int:number>/<uuid:clip_id>/<slug:kind>.vtt",
        track_files.ReplyTrack.as_view(),
        name="reply-track",
    ),
    path("submissions/<uuid:pk>/understood/", reply_pages.understand, name="submission-understood"),
    path("submissions/<uuid:pk>/ask/", reply_pages.ask, name="submission-ask"),
    path(
        "submissions/<uuid:pk>/set-aside/",
        page_parts.nothing_to_answer,
        name="submission-set-aside",
    ),
    path("library/<int:pk>/what-works/", page_parts.what_works_part, name="what-works"),
    path("desk/asked-back/", page_parts.asked_back, name="asked-back"),
]
