"""What was sent to the athlete, and what both write below it."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.permissions import signed_in
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from reviews.intake.models import Submission
from reviews.permissions import submissions_visible_to
from reviews.replies.api.workbench import WorkbenchView
from reviews.replies.models import Message, ReplyVersion
from reviews.replies.reply_page import tracks_of
from reviews.replies.schemas.stored import ContentOut
from reviews.replies.services.mark_read import understood
from reviews.replies.services.send_message import LONGEST, send_message


class VersionOut(serializers.ModelSerializer[ReplyVersion]):
    """``tracks``: by a clip's id, the addresses of its captions and chapters (WebVTT)."""

    sent_by = serializers.CharField(source="sent_by.name")
    content = serializers.SerializerMethodField()
    tracks = serializers.SerializerMethodField()

    class Meta:
        model = ReplyVersion
        fields = ["number", "sent_by", "sent_at", "understood_at", "content", "tracks"]

    @extend_schema_field(ContentOut)
    def get_content(self, version: ReplyVersion) -> Any:
        return version.content

    def get_tracks(self, version: ReplyVersion) -> dict[str, dict[str, str]]:
        return {clip["id"]: tracks_of(version, clip["id"]) for clip in version.content["clips"]}


class MessageOut(serializers.ModelSerializer[Message]):
    class Meta:
        model = Message
        fields = ["id", "author", "text", "sent_at", "read_at"]


class MessageIn(serializers.Serializer[Any]):
    text = serializers.CharField(max_length=LONGEST)


class UnderstoodIn(serializers.Serializer[Any]):
    """``number``: the version that was read."""

    number = serializers.IntegerField(min_value=1, max_value=32767)


class UnderstoodOut(serializers.Serializer[Any]):
    marked = serializers.BooleanField()


class SharedView(WorkbenchView):
    """Between the athlete and the coaches of the club."""

    def submission(self, pk: UUID) -> Submission:
        seen = submissions_visible_to(signed_in(self.request)).filter(sent_at__isnull=False)
        return get_object_or_404(seen, pk=pk)


class RepliesView(SharedView):
    """Each version that was sent, the newest first."""

    @list_schema("replies", VersionOut, operation_id="replies_list")
    def get(self, request: Request, submission_id: UUID) -> Response:
        rows = ReplyVersion.objects.filter(reply__submission=self.submission(submission_id))
        rows = rows.select_related("sent_by", "reply")
        return paginated_response(rows, VersionOut, request=request, view=self, by="-number")


class UnderstoodView(SharedView):
    """POST by the athlete: this version, and what came before it, was read and understood."""

    @operation_schema("replies", UnderstoodIn, UnderstoodOut)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.submission(submission_id)
        user = signed_in(request)
        if submission.athlete_id != user.pk:
            raise PermissionDenied("Only the athlete can say that.")
        sent = UnderstoodIn(data=request.data)
        sent.is_valid(raise_exception=True)
        number = sent.validated_data["number"]
        return Response({"marked": understood(athlete=user, submission=submission, number=number)})


class MessagesView(SharedView):
    """The talk below a question, oldest first."""

    @list_schema("replies", MessageOut, operation_id="messages_list")
    def get(self, request: Request, submission_id: UUID) -> Response:
        submission = self.submission(submission_id)
        rows = Message.objects.filter(submission=submission)
        return paginated_response(rows, MessageOut, request=request, view=self, by="sent_at")

    @operation_schema("replies", MessageIn, MessageOut, 201)
    def post(self, request: Request, submission_id: UUID) -> Response:
        submission = self.submission(submission_id)
        sent = MessageIn(data=request.data)
        sent.is_valid(raise_exception=True)
        author = signed_in(request)
        made = send_message(author=author, submission=submission, **sent.validated_data)
        return Response(MessageOut(made).data, status=201)
