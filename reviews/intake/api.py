"""REST of a draft: every change of the submit page is one small PATCH."""

from typing import Any
from uuid import UUID

from django.db.models import QuerySet
from django.http import Http404
from django.shortcuts import get_object_or_404
from django.urls import reverse
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from coachdesk.common.api.schema import operation_schema
from coachdesk.common.errors import Conflict
from reviews.intake import clips, submitting
from reviews.intake.cards import clip_card
from reviews.intake.listing_api import SubmissionOut, one_submission
from reviews.intake.models import Clip, Submission
from reviews.intake.serializers import ClipFields, SubmissionFields
from reviews.permissions import (
    clips_changeable_by,
    clips_removable_by,
    clips_sendable_by,
    clips_visible_to,
    drafts_of,
    submissions_fillable_by,
    submissions_visible_to,
)

SENT = "This question was sent meanwhile, so it can no longer be changed."


class DraftApi(APIView):
    """One question; PATCH the words of one's own draft."""

    @operation_schema("submissions", gives=SubmissionOut)
    def get(self, request: Request, submission_id: UUID) -> Response:
        found = one_submission(request, submission_id)
        if found is None:
            raise Http404
        return Response(SubmissionOut(found).data)

    def patch(self, request: Request, submission_id: UUID) -> Response:
        draft = self._draft(request, submission_id)
        fields = SubmissionFields(data=request.data)
        fields.is_valid(raise_exception=True)
        try:
            saved = submitting.save_draft(draft=draft, changes=fields.validated_data)
        except Submission.DoesNotExist:
            raise Conflict(SENT) from None
        return Response({"saved_at": saved.saved_at})

    def _draft(self, request: Request, submission_id: UUID) -> Submission:
        user = signed_in(request)
        draft = drafts_of(user).filter(pk=submission_id).first()
        if draft is None:
            own = submissions_visible_to(user).filter(athlete=user, pk=submission_id)
            raise Conflict(SENT) if own.exists() else Http404
        return draft


class SendApi(APIView):
    """The question goes to the coach."""

    def post(self, request: Request, submission_id: UUID) -> Response:
        user = signed_in(request)
        own = submissions_visible_to(user).filter(athlete=user)
        sent = submitting.send(draft=get_object_or_404(own, pk=submission_id))
        return Response({"state": sent.state, "url": reverse("submission", args=[sent.id])})


class ClipsApi(APIView):
    """One more clip."""

    def post(self, request: Request, submission_id: UUID) -> Response:
        user = signed_in(request)
        submission = get_object_or_404(submissions_fillable_by(user), pk=submission_id)
        try:
            clip = clips.add_clip(submission=submission, unit=user.unit)
        except Submission.DoesNotExist:
            raise Conflict(SENT) from None
        return Response(clip_card(clip), status=201)


class ClipApi(APIView):
    """One clip: how far it is, what was on the bar, out with it."""

    def get(self, request: Request, clip_id: UUID) -> Response:
        clip = get_object_or_404(clips_visible_to(signed_in(request)), pk=clip_id)
        return Response(clip_card(clip))

    def patch(self, request: Request, clip_id: UUID) -> Response:
        user = signed_in(request)
        clip = self._own(request, clip_id, clips_changeable_by(user))
        fields = ClipFields(data=request.data, context={"athlete": user})
        fields.is_valid(raise_exception=True)
        confirmed = fields.validated_data["load_confirmed"]
        return self._if_draft(
            lambda: clips.save_clip(clip=clip, changes=fields.changes(), load_confirmed=confirmed)
        )

    def delete(self, request: Request, clip_id: UUID) -> Response:
        clip = self._own(request, clip_id, clips_removable_by(signed_in(request)))
        return self._if_draft(lambda: clips.remove_clip(clip=clip))

    def _own(self, request: Request, clip_id: UUID, open_: QuerySet[Clip]) -> Clip:
        user = signed_in(request)
        clip = open_.filter(pk=clip_id).first()
        if clip is None:
            own = clips_visible_to(user).filter(submission__athlete=user, pk=clip_id)
            raise Conflict(SENT) if own.exists() else Http404
        return clip

    def _if_draft(self, change: Any) -> Response:
        try:
            change()
        except Submission.DoesNotExist:
            raise Conflict(SENT) from None
        except Clip.DoesNotExist:  # taken out since it was read
            raise Http404 from None
        return Response(status=204)


class ReplaceClipApi(APIView):
    """A clip that failed is sent again, in its own place."""

    def post(self, request: Request, clip_id: UUID) -> Response:
        clip = get_object_or_404(clips_sendable_by(signed_in(request)), pk=clip_id)
        fresh = clips.replace_clip(clip=clip)
        return Response(clip_card(fresh), status=201)
