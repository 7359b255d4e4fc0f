from django.urls import path

from reviews.intake.api import ClipApi, ClipsApi, DraftApi, ReplaceClipApi, SendApi
from reviews.intake.consent_api import ConsentApi
from reviews.intake.listing_api import SubmissionsApi

urlpatterns = [
    path("submissions/", SubmissionsApi.as_view(), name="api-submissions"),
    path("submissions/<uuid:submission_id>/", DraftApi.as_view(), name="api-submission"),
    path("submissions/<uuid:submission_id>/send/", SendApi.as_view(), name="api-send"),
    path("submissions/<uuid:submission_id>/consent/", ConsentApi.as_view(), name="api-consent"),
    path("submissions/<uuid:submission_id>/clips/", ClipsApi.as_view(), name="api-clips"),
    path("clips/<uuid:clip_id>/", ClipApi.as_view(), name="api-clip"),
    path("clips/<uuid:clip_id>/replace/", ReplaceClipApi.as_view(), name="api-clip-replace"),
]
