"""REST of notes, rep calls and replies."""

from django.urls import path

from reviews.replies.api import corrections, faults, messages, replies
from reviews.replies.api.workbench import (
    CheckBackView,
    NoteView,
    OutcomeView,
    PublishView,
    RepCallView,
    ReplyView,
    ReviewView,
)

urlpatterns = [
    path(
        "submissions/<uuid:submission_id>/check-back/",
        CheckBackView.as_view(),
        name="api-check-back",
    ),
    path(
        "submissions/<uuid:submission_id>/outcomes/<uuid:note_id>/",
        OutcomeView.as_view(),
        name="api-outcome",
    ),
    path("notes/<uuid:note_id>/", NoteView.as_view(), name="api-note"),
    path("clips/<uuid:clip_id>/reps/<int:rep>/", RepCallView.as_view(), name="api-rep-call"),
    path("submissions/<uuid:submission_id>/reply/", ReplyView.as_view(), name="api-reply"),
    path("submissions/<uuid:submission_id>/publish/", PublishView.as_view(), name="api-publish"),
    path("submissions/<uuid:submission_id>/review/", ReviewView.as_view(), name="api-review"),
    path(
        "submissions/<uuid:submission_id>/replies/",
        replies.RepliesView.as_view(),
        name="api-replies",
    ),
    path(
        "submissions/<uuid:submission_id>/understood/",
        replies.UnderstoodView.as_view(),
        name="api-understood",
    ),
    path(
        "submissions/<uuid:submission_id>/messages/",
        messages.MessagesView.as_view(),
        name="api-messages",
    ),
    path(
        "submissions/<uuid:submission_id>/messages/read/",
        messages.ReadMessagesView.as_view(),
        name="api-messages-read",
    ),
    path(
        "submissions/<uuid:submission_id>/messages/set-aside/",
        messages.SetAsideView.as_view(),
        name="api-messages-set-aside",
    ),
    path("submissions/<uuid:submission_id>/angle/", messages.AngleView.as_view(), name="api-angle"),
    path(
        "notes/<uuid:note_id>/correction-preview/",
        corrections.PreviewView.as_view(),
        name="api-correction-preview",
    ),
    path(
        "notes/<uuid:note_id>/corrections/",
        corrections.ApplyView.as_view(),
        name="api-correction-apply",
    ),
    path("people/<int:pk>/faults/", faults.AthleteFaultsView.as_view(), name="api-athlete-faults"),
    path("people/<int:pk>/faults/told/", faults.SentFaultsView.as_view(), name="api-told-faults"),
    path("movements/<int:pk>/cue/", faults.LastCueView.as_view(), name="api-last-cue"),
    path("faults/<int:pk>/what-works/", faults.WhatWorksView.as_view(), name="api-what-works"),
    path("desk/asked-back/", messages.AskedBackView.as_view(), name="api-asked-back"),
    path("prescriptions/<uuid:pk>/why/", corrections.WhyView.as_view(), name="api-why"),
    path("corrections/", corrections.CorrectionsView.as_view(), name="api-corrections"),
    path(
        "corrections/<uuid:pk>/take-back/",
        corrections.TakeBackView.as_view(),
        name="api-correction-take-back",
    ),
    path("corrections/<uuid:pk>/end/", corrections.EndView.as_view(), name="api-correction-end"),
]
