"""What became of the earlier points: read and said in the workbench of a check-back."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from django.urls import reverse
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from reviews.permissions import submissions_reviewable_by
from reviews.replies.api.workbench import WorkbenchView
from reviews.replies.models import Result
from reviews.replies.selectors.follow_up import FollowUp, Point, say_outcome
from reviews.replies.selectors.reviews import review_of


class OutcomeIn(serializers.Serializer):
    result = serializers.ChoiceField(Result.choices)


def follow_up_json(follow_up: FollowUp | None) -> dict[str, Any] | None:
    if follow_up is None:
        return None
    version = follow_up.version
    return {
        "question": version.content["question"],
        "url": reverse("submission", args=[version.reply.submission_id]),
        "version": version.number,
        "sent_at": version.sent_at,
        "points": [_point(point) for point in follow_up.points],
    }


def _point(point: Point) -> dict[str, Any]:
    return {
        **{name: point.sent[name] for name in ("note", "number", "cue", "drill")},
        "title": point.title,
        "proposal": point.proposal.to_json(),
        "said": point.said.result if point.said else None,
    }


class CheckBackView(WorkbenchView):
    """The earlier reply's points, each with what the rep calls propose and what was said; null
    when the submission follows no answered one."""

    def get(self, request: Request, submission_id: UUID) -> Response:
        mine = submissions_reviewable_by(self.coach())
        submission = get_object_or_404(mine, pk=submission_id)
        review = review_of(submission, self.coach())
        return Response({"check_back": follow_up_json(review.follow_up)})


class OutcomeView(WorkbenchView):
    """A coach's word on one point. A changed mind is said again; nothing is rewritten."""

    def put(self, request: Request, submission_id: UUID, note_id: UUID) -> Response:
        sent = OutcomeIn(data=request.data)
        sent.is_valid(raise_exception=True)
        result = Result(sent.validated_data["result"])
        said = say_outcome(
            coach=self.coach(), check_back_id=submission_id, note=note_id, result=result
        )
        return self.answer(said.check_back, result=said.result)
