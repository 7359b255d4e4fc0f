"""The text tracks of a sent version, behind the same door as the reply itself."""

from uuid import UUID

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import OpenApiParameter, OpenApiResponse, extend_schema
from rest_framework.request import Request

from athletes.permissions import signed_in
from coachdesk.common.api.file_view import FileView
from reviews.permissions import submissions_visible_to
from reviews.replies.models import ReplyVersion
from reviews.replies.text_tracks import TRACKS
from reviews.replies.webvtt import CONTENT_TYPE

KIND = OpenApiParameter("kind", enum=list(TRACKS), location=OpenApiParameter.PATH)
NUMBER = OpenApiParameter("number", int, OpenApiParameter.PATH)


class ReplyTrack(FileView):
    """One clip's captions or chapters (WebVTT), as they were sent."""

    @extend_schema(
        tags=["replies"],
        parameters=[KIND, NUMBER],
        responses={(200, "text/vtt"): OpenApiResponse(response=str)},
    )
    def get(
        self, request: Request, pk: UUID, number: int, clip_id: UUID, kind: str
    ) -> HttpResponse:
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
