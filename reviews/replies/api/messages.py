"""Another angle asked for, and what the athlete wrote seen or set aside."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.permissions import signed_in
from coachdesk.common.api.form_serializers import (
    as_form_data,
    cleaned_data,
    form_serializer,
    validated_data,
)
from coachdesk.common.api.schema import operation_schema
from reviews.intake.angles import open_angle, take_back
from reviews.intake.models import AngleRequest, Submission, View
from reviews.permissions import submissions_reviewable_by
from reviews.replies.api.replies import SharedView
from reviews.replies.services.request_angle import ask_for_angle
from reviews.replies.services.send_message import mark_read, set_aside
from reviews.replies.views.angle import AngleForm

AngleIn = form_serializer("AngleIn", AngleForm)


class AngleOut(serializers.ModelSerializer[AngleRequest]):
    asked_by = serializers.CharField(source="asked_by.name")

    class Meta:
        model = AngleRequest
        fields = ["view", "why", "asked_by", "asked_at"]


class OpenAngleOut(serializers.Serializer[Any]):
    """``angle``: what the athlete is asked for now; null when nothing is."""

    angle = AngleOut(allow_null=True)


class MarkedOut(serializers.Serializer[Any]):
    marked = serializers.IntegerField(min_value=0)


class CoachedView(SharedView):
    """Of a question that this coach may answer."""

    def mine(self, pk: UUID) -> Submission:
        if not self.coach().is_coach:
            raise PermissionDenied("This is the coaches' tool.")
        return get_object_or_404(submissions_reviewable_by(self.coach()), pk=pk)


class AngleView(CoachedView):
    """POST by a coach: the question waits on the athlete until a clip from there plays; 409 when
    another coach has it or it does not wait. DELETE takes that back. The athlete adds the clip by
    `POST /submissions/{id}/clips/`."""

    @operation_schema("replies", gives=OpenAngleOut, operation_id="angle_read")
    def get(self, request: Request, submission_id: UUID) -> Response:
        angle = open_angle(self.submission(submission_id))
        return Response({"angle": angle and AngleOut(angle).data})

    @operation_schema("replies", AngleIn, AngleOut, 201)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.mine(submission_id)
        told = cleaned_data(AngleForm(as_form_data(validated_data(AngleIn, request.data))))
        view = View(told["view"])
        asked = ask_for_angle(coach=self.coach(), submission=submission, view=view, why=told["why"])
        return Response(AngleOut(asked).data, status=201)

    @operation_schema("replies", status=204)
    def delete(self, request: Request, submission_id: UUID) -> Response:
        take_back(submission=self.mine(submission_id))
        return Response(status=204)


class ReadMessagesView(SharedView):
    """POST: what the other side wrote was read. Reading the list marks nothing."""

    @operation_schema("replies", gives=MarkedOut)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.submission(submission_id)
        return Response({"marked": mark_read(reader=signed_in(request), submission=submission)})


class SetAsideView(CoachedView):
    """POST by a coach: what the athlete wrote needs no answer, and stands on the desk no longer."""

    @operation_schema("replies", gives=MarkedOut)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.mine(submission_id)
        return Response({"marked": set_aside(coach=self.coach(), submission=submission)})
