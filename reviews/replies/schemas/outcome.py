"""What became of a focus point: proposed to a coach, and said by one."""

from typing import Any

from django.urls import reverse
from rest_framework import serializers

from reviews.replies.models import Outcome, Result
from reviews.replies.outcome_proposals import Proposal
from reviews.replies.selectors.follow_up import FollowUp, FollowUpPoint


class OutcomeSchema(serializers.Serializer[Outcome]):
    result = serializers.ChoiceField(Result.choices)


class ProposalSchema(serializers.Serializer[Proposal]):
    result = serializers.ChoiceField(Result.choices)
    why = serializers.CharField()


class FollowUpPointSchema(serializers.Serializer[FollowUpPoint]):
    """``said``: what a coach said of it last, null before anybody did."""

    note = serializers.UUIDField(source="sent.note")
    number = serializers.IntegerField(source="sent.number", allow_null=True)
    cue = serializers.CharField(source="sent.cue")
    drill = serializers.CharField(source="sent.drill")
    title = serializers.CharField()
    proposal = ProposalSchema()
    said = serializers.ChoiceField(
        Result.choices, source="outcome.result", allow_null=True, default=None
    )


class FollowUpSchema(serializers.Serializer[FollowUp]):
    question = serializers.CharField(source="version.content.question")
    url = serializers.SerializerMethodField()
    version = serializers.IntegerField(source="version.number")
    sent_at = serializers.DateTimeField(source="version.sent_at")
    points = FollowUpPointSchema(many=True)

    def get_url(self, follow_up: FollowUp) -> str:
        return reverse("submission", args=[follow_up.version.reply.submission_id])


class CheckBackSchema(serializers.Serializer[Any]):
    """``check_back``: null when the submission follows no answered one."""

    check_back = FollowUpSchema(source="follow_up", allow_null=True)
