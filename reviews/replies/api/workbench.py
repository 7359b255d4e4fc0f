"""The workbench's saves. Each answer says whether the reply may go out by now."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import User
from athletes.permissions import signed_in
from reviews.intake.models import Submission
from reviews.permissions import submissions_reviewable_by
from reviews.replies.readiness import may_publish
from reviews.replies.schemas.inputs import NoteIn, RepCallIn, ReplyIn
from reviews.replies.schemas.review import call_json, note_json, reply_json, workbench_data
from reviews.replies.selectors.reviews import review_of
from reviews.replies.services.call_rep import call_rep
from reviews.replies.services.publish_reply import publish, save_reply
from reviews.replies.services.save_note import delete_note, save_note


class WorkbenchView(APIView):
    def coach(self) -> User:
        """Who asks. Athletes get no further than the permissions let them: to a 404."""
        return signed_in(self.request)

    def answer(self, submission: Submission, status: int = 200, **body: Any) -> Response:
        verdict = may_publish(review_of(submission, self.coach()))
        return Response({**body, "may_publish": verdict.to_json()}, status=status)


class NoteView(WorkbenchView):
    def put(self, request: Request, note_id: UUID) -> Response:
        sent = NoteIn(data=request.data, context={"request": request})
        sent.is_valid(raise_exception=True)
        note = save_note(coach=self.coach(), note_id=note_id, seen=sent.seen())
        return self.answer(note.clip.submission, note=note_json(note))

    def delete(self, request: Request, note_id: UUID) -> Response:
        submission = delete_note(coach=self.coach(), note_id=note_id)
        return self.answer(submission) if submission else Response(status=204)


class RepCallView(WorkbenchView):
    def put(self, request: Request, clip_id: UUID, rep: int) -> Response:
        sent = RepCallIn(data=request.data, context={"request": request})
        sent.is_valid(raise_exception=True)
        row = call_rep(coach=self.coach(), clip_id=clip_id, rep=rep, verdict=sent.verdict())
        return self.answer(row.clip.submission, rep_call=call_json(row))


class ReplyView(WorkbenchView):
    def patch(self, request: Request, submission_id: UUID) -> Response:
        sent = ReplyIn(data=request.data)
        sent.is_valid(raise_exception=True)
        fields = dict(sent.validated_data)
        ranks = fields.pop("ranks", None)
        reply = save_reply(
            coach=self.coach(), submission_id=submission_id, fields=fields, ranks=ranks
        )
        return self.answer(reply.submission, reply=reply_json(reply, working=True))


class PublishView(WorkbenchView):
    def post(self, request: Request, submission_id: UUID) -> Response:
        version = publish(coach=self.coach(), submission_id=submission_id)
        told = reply_json(version.reply, working=False)
        return self.answer(version.reply.submission, reply=told)


class ReviewView(WorkbenchView):
    """All of it, to pick up where another page or another coach left off."""

    def get(self, request: Request, submission_id: UUID) -> Response:
        mine = submissions_reviewable_by(self.coach())
        submission = get_object_or_404(mine, pk=submission_id)
        return Response(workbench_data(submission, review_of(submission, self.coach())))
