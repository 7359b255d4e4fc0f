"""What athlete and coach write to each other, and a request for another angle."""

from typing import Any

from rest_framework import serializers

from reviews.intake.angles import SAY_WHY
from reviews.intake.models import AngleRequest, View
from reviews.replies.models import Message
from reviews.replies.services.send_message import LONGEST


class MessageSchema(serializers.ModelSerializer[Message]):
    text = serializers.CharField(max_length=LONGEST)

    class Meta:
        model = Message
        fields = ["id", "author", "text", "sent_at", "read_at"]
        read_only_fields = ["author", "read_at"]


class MarkedSchema(serializers.Serializer[Any]):
    """How many messages it was."""

    marked = serializers.IntegerField(min_value=0)


class AngleSchema(serializers.ModelSerializer[AngleRequest]):
    view = serializers.ChoiceField(View.choices)
    why = serializers.CharField(max_length=300, error_messages={"blank": SAY_WHY})
    asked_by = serializers.CharField(source="asked_by.name", read_only=True)

    class Meta:
        model = AngleRequest
        fields = ["view", "why", "asked_by", "asked_at"]
        read_only_fields = ["asked_at"]


class OpenAngleSchema(serializers.Serializer[Any]):
    """``angle``: what the athlete is asked for now; null when nothing is."""

    angle = AngleSchema(allow_null=True)


class ThreadSchema(serializers.Serializer[Any]):
    submission = serializers.UUIDField(source="submission.pk")
    athlete = serializers.IntegerField(source="submission.athlete_id")
    messages = MessageSchema(many=True)


class DueCheckBackSchema(serializers.Serializer[Any]):
    submission = serializers.UUIDField(source="submission.pk")
    athlete = serializers.IntegerField(source="submission.athlete_id")
    by = serializers.DateField()
    said = serializers.ListField(child=serializers.CharField())


class AskedBackSchema(serializers.Serializer[Any]):
    asked_back = ThreadSchema(many=True)
    not_filmed = DueCheckBackSchema(many=True)
