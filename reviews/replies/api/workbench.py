"""The workbench's saves. Each answer says whether the reply may go out by now."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import inline_serializer
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import User
from athletes.permissions import signed_in
from coachdesk.common.api.schema import operation_schema
from reviews.intake.models import Submission
from reviews.permissions import submissions_reviewable_by
from reviews.replies.readiness import may_publish
from reviews.replies.schemas.note import NoteSchema
from reviews.replies.schemas.outcome import CheckBackSchema, OutcomeSchema
from reviews.replies.schemas.rep_call import RepCallSchema
from reviews.replies.schemas.reply import MayPublishSchema, ReplySchema
from reviews.replies.schemas.review import ReviewSchema, review_data
from reviews.replies.selectors.reviews import review_of
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.record_outcome import record_outcome
from reviews.replies.services.save_note import delete_note, save_note
from reviews.replies.services.save_reply import save_reply


def saved_schema(name: str, **fields: serializers.Field) -> serializers.Serializer:
    return inline_serializer(name, {**fields, "may_publish": MayPublishSchema()})


SAVED_REPLY = saved_schema("SavedReply", reply=ReplySchema())


class WorkbenchView(APIView):
    def coach(self) -> User:
        """Who asks. Athletes get no further than the permissions let them: to a 404."""
        return signed_in(self.request)

    def valid(
        self, schema: type[serializers.Serializer], *, partial: bool = False, **context: Any
    ) -> dict[str, Any]:
        """The body, as the schema validates it."""
        context["request"] = self.request
        body = schema(data=self.request.data, partial=partial, context=context)
        body.is_valid(raise_exception=True)
        return dict(body.validated_data)

    def saved(self, submission: Submission, **body: Any) -> Response:
        check = may_publish(review_of(submission, self.coach()))
        return Response({**body, "may_publish": MayPublishSchema(check).data})


class NoteView(WorkbenchView):
    @operation_schema("reviews", NoteSchema, saved_schema("SavedNote", note=NoteSchema()))
    def put(self, request: Request, note_id: UUID) -> Response:
        note = save_note(coach=self.coach(), note_id=note_id, **self.valid(NoteSchema))
        return self.saved(note.clip.submission, note=NoteSchema(note).data)

    @operation_schema("reviews", gives=saved_schema("Saved"), more_answers={204: None})
    def delete(self, request: Request, note_id: UUID) -> Response:
        submission = delete_note(coach=self.coach(), note_id=note_id)
        return self.saved(submission) if submission else Response(status=204)


class RepCallView(WorkbenchView):
    @operation_schema(
        "reviews", RepCallSchema, saved_schema("SavedRepCall", rep_call=RepCallSchema())
    )
    def put(self, request: Request, clip_id: UUID, rep: int) -> Response:
        values = self.valid(RepCallSchema)
        row = call_rep(coach=self.coach(), clip_id=clip_id, rep=rep, **values)
        return self.saved(row.clip.submission, rep_call=RepCallSchema(row).data)


class ReplyView(WorkbenchView):
    """PATCH: only what is sent is saved."""

    @operation_schema("reviews", ReplySchema, SAVED_REPLY)
    def patch(self, request: Request, submission_id: UUID) -> Response:
        fields = self.valid(ReplySchema, partial=True)
        ranks = fields.pop("ranks", None)
        reply = save_reply(
            coach=self.coach(), submission_id=submission_id, fields=fields, ranks=ranks
        )
        data = ReplySchema(reply, context={"is_working": True}).data
        return self.saved(reply.submission, reply=data)


class PublishView(WorkbenchView):
    @operation_schema("reviews", gives=SAVED_REPLY)
    def post(self, request: Request, submission_id: UUID) -> Response:
        reply = publish_reply(coach=self.coach(), submission_id=submission_id).reply
        data = ReplySchema(reply, context={"is_working": False}).data
        return self.saved(reply.submission, reply=data)


class ReviewView(WorkbenchView):
    """All of it, to pick up where another page or another coach left off."""

    @operation_schema("reviews", gives=ReviewSchema)
    def get(self, request: Request, submission_id: UUID) -> Response:
        mine = submissions_reviewable_by(self.coach())
        submission = get_object_or_404(mine, pk=submission_id)
        return Response(review_data(review_of(submission, self.coach())))


class CheckBackView(WorkbenchView):
    """The earlier reply's points, each with what the rep calls propose and what was said; null
    when the submission follows no answered one."""

    @operation_schema("reviews", gives=CheckBackSchema)
    def get(self, request: Request, submission_id: UUID) -> Response:
        mine = submissions_reviewable_by(self.coach())
        submission = get_object_or_404(mine, pk=submission_id)
        return Response(CheckBackSchema(review_of(submission, self.coach())).data)


class OutcomeView(WorkbenchView):
    """A coach's word on one point. A changed mind is said again; nothing is rewritten."""

    @operation_schema(
        "reviews",
        OutcomeSchema,
        saved_schema("SavedOutcome", result=OutcomeSchema().fields["result"]),
    )
    def put(self, request: Request, submission_id: UUID, note_id: UUID) -> Response:
        outcome = record_outcome(
            coach=self.coach(),
            check_back_id=submission_id,
            note=note_id,
            **self.valid(OutcomeSchema),
        )
        return self.saved(outcome.check_back, result=outcome.result)
