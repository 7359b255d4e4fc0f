"""REST of an athlete's word on round-ups."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from coachdesk.common.api.form_serializers import validated_data
from coachdesk.common.api.schema import operation_schema
from reviews.intake.models import Submission
from reviews.intake.submitting import round_up_allowed, say_round_up
from reviews.permissions import submissions_visible_to


class ConsentBody(serializers.Serializer[Any]):
    """``given``: whether round-ups may show this question. Off until the athlete says yes."""

    given = serializers.BooleanField()


class ConsentApi(APIView):
    """Of one's own question, at any time; every word is kept, the newest counts."""

    @operation_schema("submissions", gives=ConsentBody, operation_id="consent_read")
    def get(self, request: Request, submission_id: UUID) -> Response:
        return Response({"given": round_up_allowed(self._own(request, submission_id))})

    @operation_schema("submissions", ConsentBody, ConsentBody)
    def put(self, request: Request, submission_id: UUID) -> Response:
        submission = self._own(request, submission_id)
        told = validated_data(ConsentBody, request.data)
        by = signed_in(request)
        return Response({"given": say_round_up(submission=submission, given=told["given"], by=by)})

    def _own(self, request: Request, pk: UUID) -> Submission:
        user = signed_in(request)
        return get_object_or_404(submissions_visible_to(user).filter(athlete=user), pk=pk)
