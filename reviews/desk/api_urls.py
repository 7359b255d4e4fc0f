from django.urls import path

from reviews.desk.api import ClaimView, ReleaseView

urlpatterns = [
    path("submissions/<uuid:pk>/claim/", ClaimView.as_view(), name="api-claim"),
    path("submissions/<uuid:pk>/release/", ReleaseView.as_view(), name="api-release"),
]
