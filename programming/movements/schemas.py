"""What the API says of movements."""

from typing import Any, ClassVar

from rest_framework import serializers

from coachdesk.common.api.form_serializers import MAX_INT
from coachdesk.common.validators import validate_name
from programming.movements.models import Movement


class MovementIn(serializers.ModelSerializer[Movement]):
    class Meta:
        model = Movement
        fields = ["family", "name", "bar_position", "stance", "grip", "equipment", "tempo"]
        # Whether a name is taken is the use case's to say.
        extra_kwargs: ClassVar = {"name": {"validators": [validate_name]}}
        validators: ClassVar[list[Any]] = []


class RebuildIn(serializers.Serializer[Any]):
    """``tempo``: empty for that of the movement that is rebuilt."""

    athlete = serializers.IntegerField(min_value=1, max_value=MAX_INT)
    name = serializers.CharField(max_length=80, validators=[validate_name])
    tempo = serializers.CharField(max_length=40, allow_blank=True, default="")


class MovementOut(serializers.ModelSerializer[Movement]):
    class Meta:
        model = Movement
        fields = [
            *("id", "club", "athlete", "parent", "family", "name", "bar_position", "stance"),
            *("grip", "equipment", "tempo", "retired_at"),
        ]
