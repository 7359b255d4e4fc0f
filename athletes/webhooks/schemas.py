"""Webhooks as the API takes and answers them."""

from typing import Any

from rest_framework import serializers

from athletes.webhooks.models import Delivery, Event, Webhook


class WebhookOut(serializers.ModelSerializer[Webhook]):
    events = serializers.ListField(child=serializers.ChoiceField(Event.choices))

    class Meta:
        model = Webhook
        fields = ["id", "url", "events", "made_at"]


class WebhookMade(WebhookOut):
    """``secret`` signs every telling, and is told this once: null when the request is repeated."""

    secret = serializers.CharField(allow_null=True)

    class Meta(WebhookOut.Meta):
        fields = [*WebhookOut.Meta.fields, "secret"]


class WebhookIn(serializers.Serializer[Any]):
    url = serializers.URLField(max_length=500)
    events = serializers.MultipleChoiceField(choices=Event.choices, allow_empty=False)


class DeliveryOut(serializers.ModelSerializer[Delivery]):
    class Meta:
        model = Delivery
        fields = [
            *("id", "event", "made_at", "attempts", "due_at", "taken_at", "status", "problem"),
        ]
