from django.urls import path

from reviews.intake.media_views import ClipMedia
from reviews.intake.tus_views import OneUpload, Uploads
from reviews.intake.views import consent, submit, submit_draft

urlpatterns = [
    path("submit/", submit, name="submit"),
    path("submit/<uuid:submission_id>/", submit_draft, name="submit-draft"),
    path("submissions/<uuid:submission_id>/consent/", consent, name="consent"),
    path("uploads/", Uploads.as_view(), name="uploads"),
    path("uploads/<uuid:upload_id>", OneUpload.as_view(), name="upload"),
    path("media/clips/<uuid:clip_id>/<slug:kind>", ClipMedia.as_view(), name="clip-media"),
]
