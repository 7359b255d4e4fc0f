"""The text tracks of a sent version, behind the same door as the reply itself."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404
from django.views.decorators.http import require_safe

from athletes.permissions import signed_in
from reviews.permissions import submissions_visible_to
from reviews.replies.models import ReplyVersion
from reviews.replies.tracks import TRACKS
from reviews.replies.webvtt import CONTENT_TYPE


@login_required
@require_safe
def track(request: HttpRequest, pk: UUID, number: int, clip_id: UUID, kind: str) -> HttpResponse:
    """One clip's captions or chapters, as they were sent; 404 for all else."""
    seen = ReplyVersion.objects.filter(
        reply__submission__in=submissions_visible_to(signed_in(request))
    )
    version = get_object_or_404(seen, reply__submission=pk, number=number)
    clips = version.content["clips"]
    clip = next((each for each in clips if each["id"] == str(clip_id)), None)
    if clip is None or kind not in TRACKS:
        raise Http404
    response = HttpResponse(TRACKS[kind](version.content, clip), content_type=CONTENT_TYPE)
    response["Cache-Control"] = "private, no-cache"
    return response
