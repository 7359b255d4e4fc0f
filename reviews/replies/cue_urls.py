"""Address of the part that stands above a movement's sets."""

from django.urls import path

from reviews.replies.views.cue import cue

urlpatterns = [path("replies/cue/", cue, name="reply-cue")]
