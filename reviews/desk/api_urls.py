from django.urls import path

from reviews.desk.api import ClaimView, ReleaseView
from reviews.desk.evening_api import EveningView
from reviews.desk.queue_api import DeskView, HandOverView, NextView

urlpatterns = [
    path("desk/", DeskView.as_view(), name="api-desk"),
    path("desk/evening/", EveningView.as_view(), name="api-desk-evening"),
    path("desk/next/", NextView.as_view(), name="api-desk-next"),
    path("submissions/<uuid:pk>/claim/", ClaimView.as_view(), name="api-claim"),
    path("submissions/<uuid:pk>/release/", ReleaseView.as_view(), name="api-release"),
    path("submissions/<uuid:pk>/hand-over/", HandOverView.as_view(), name="api-hand-over"),
]
