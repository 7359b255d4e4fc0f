"""The document and its page."""

from django.urls import path

from coachdesk.api import described  # noqa: F401  said to drf-spectacular by being imported
from coachdesk.api.docs import api_docs
from coachdesk.api.views import DocumentView

urlpatterns = [
    path("schema/", DocumentView.as_view(), name="api-schema"),
    path("docs/", api_docs, name="api-docs"),
]
