"""What the phone sends. Numbers come as text, so that 62.5 stays 62.5."""

from typing import Any

from rest_framework import serializers

from athletes.models import Unit
from programming.logs.told import ToldSession, ToldSet
from programming.logs.unusual_load import QUESTIONED_ABOVE

LOAD_CONFIRMED = (
    f"The load is meant. Without it a load over {QUESTIONED_ABOVE:.0%} of the max known for the "
    "movement is refused with a question, in `errors.load_confirmed`, so that a slip of the keypad "
    "is not stored."
)


class HalfPoints(serializers.DecimalField):
    """An effort from ``least`` to 10 in steps of a half."""

    def __init__(self, *, least: int, **more: Any) -> None:
        super().__init__(max_digits=3, decimal_places=1, min_value=least, max_value=10, **more)

    def to_internal_value(self, data: Any) -> Any:
        value = super().to_internal_value(data)
        if value * 2 % 1:
            raise serializers.ValidationError("An effort goes in steps of a half.")
        return value


class SessionIn(serializers.Serializer):
    revision = serializers.IntegerField(min_value=1, max_value=1_000_000)
    started_at = serializers.DateTimeField()
    planned = serializers.UUIDField(allow_null=True, default=None)
    day = serializers.DateField(allow_null=True, default=None)
    session_rpe = HalfPoints(least=0, allow_null=True, default=None)
    minutes = serializers.IntegerField(
        min_value=1,
        max_value=600,
        allow_null=True,
        default=None,
        error_messages={"max_value": "More than ten hours: check the minutes."},
    )
    note = serializers.CharField(allow_blank=True, default="", max_length=2000)
    finished_at = serializers.DateTimeField(allow_null=True, default=None)

    def told(self) -> ToldSession:
        return ToldSession(**self.validated_data)


class SetIn(serializers.Serializer):
    revision = serializers.IntegerField(min_value=1, max_value=1_000_000)
    movement = serializers.IntegerField(min_value=1)
    prescription = serializers.UUIDField(allow_null=True, default=None)
    position = serializers.IntegerField(min_value=1, max_value=1000, default=1)
    load = serializers.DecimalField(
        max_digits=8, decimal_places=3, min_value=0, allow_null=True, default=None
    )
    load_confirmed = serializers.BooleanField(default=False, help_text=LOAD_CONFIRMED)
    unit = serializers.ChoiceField(Unit.choices, default=Unit.KG)
    reps = serializers.IntegerField(min_value=0, max_value=200)
    missed_reps = serializers.IntegerField(min_value=0, max_value=200, default=0)
    rpe = HalfPoints(least=1, allow_null=True, default=None)
    note = serializers.CharField(allow_blank=True, default="", max_length=500)
    done_at = serializers.DateTimeField()

    def told(self) -> ToldSet:
        return ToldSet(**self.validated_data)


class RevisionIn(serializers.Serializer):
    revision = serializers.IntegerField(min_value=1, max_value=1_000_000)


class WeightIn(serializers.Serializer):
    weight = serializers.DecimalField(max_digits=7, decimal_places=3, allow_null=True)
    unit = serializers.ChoiceField(Unit.choices, default=Unit.KG)
