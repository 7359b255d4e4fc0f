"""What the submit page may say, checked, with a sentence for whatever cannot be right.

Every field can come alone: the page saves what was touched, when it was touched.
"""

from decimal import Decimal, InvalidOperation
from typing import Any

from django.db.models import QuerySet
from drf_spectacular.types import OpenApiTypes
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from athletes.models import Unit, WarningSign
from coachdesk.common.units import to_kg
from programming.limits import HEAVIEST_LOAD_KG
from programming.logs.schemas import LOAD_CONFIRMED
from programming.models import Movement
from programming.permissions import movements_visible_to
from reviews.intake.models import Clip, Equipment, Goal, View

RPE = "RPE goes from 1 to 10. Ten means no rep was left."
HALVES = "RPE goes in halves: 8, 8.5, 9."
RESERVE = "Reps in reserve goes from 0 to 10. Zero means no rep was left."
REPS = "Reps is a whole number from 1 to 50."
LOAD = "Load is a number, like 102.5."
LOAD_RANGE = "That load is more than any bar holds. Is the unit right?"
SCORE = "Pain goes from 0 to 10."


def decimal(text: Any, sentence: str) -> Decimal:
    """A number as people type it, comma or point. Raises ValidationError with `sentence`."""
    try:
        value = Decimal(str(text).strip().replace(",", "."))
    except InvalidOperation:
        raise serializers.ValidationError(sentence) from None
    if not value.is_finite():
        raise serializers.ValidationError(sentence)
    return value


@extend_schema_field({"type": ["integer", "string"]})
class Whole(serializers.Field):
    """A whole number in a range; empty means not said."""

    def __init__(self, low: int, high: int, sentence: str, **kwargs: Any) -> None:
        super().__init__(required=False, allow_null=True, **kwargs)
        self.low, self.high, self.sentence = low, high, sentence

    def run_validation(self, data: Any = serializers.empty) -> Any:
        return super().run_validation(None if data == "" else data)

    def to_internal_value(self, data: Any) -> int:
        value = decimal(data, self.sentence)
        if value != value.to_integral_value() or not self.low <= value <= self.high:
            raise serializers.ValidationError(self.sentence)
        return int(value)

    def to_representation(self, value: Any) -> Any:
        return value


@extend_schema_field({"type": ["number", "string"]})
class Effort(serializers.Field):
    """RPE on the scale of repetitions in reserve, 1 to 10 in halves; empty means not said."""

    def run_validation(self, data: Any = serializers.empty) -> Any:
        return super().run_validation(None if data == "" else data)

    def to_internal_value(self, data: Any) -> Decimal:
        value = decimal(data, RPE)
        if not 1 <= value <= 10:
            raise serializers.ValidationError(RPE)
        if (value * 2) % 1:
            raise serializers.ValidationError(HALVES)
        return value

    def to_representation(self, value: Any) -> Any:
        return value


class Load(serializers.Serializer[Any]):
    """A load as it was typed: the number and its unit."""

    value = serializers.CharField(allow_blank=True)
    unit = serializers.ChoiceField(choices=Unit.choices)

    def to_internal_value(self, data: Any) -> dict[str, Any]:
        told = super().to_internal_value(data)
        text, unit = told["value"].strip(), told["unit"]
        if not text:
            return {"kg": None, "unit": unit}
        value = decimal(text, LOAD)
        if value < 0:
            raise serializers.ValidationError(LOAD)
        if value > HEAVIEST_LOAD_KG * 3 or to_kg(value, unit) > HEAVIEST_LOAD_KG:
            raise serializers.ValidationError(LOAD_RANGE)
        return {"kg": to_kg(value, unit), "unit": unit}


@extend_schema_field(OpenApiTypes.INT)
class OwnMovement(serializers.PrimaryKeyRelatedField[Movement]):
    """A shipped movement or one of the athlete's club; another club's does not exist."""

    def get_queryset(self) -> QuerySet[Movement]:
        athlete = self.context.get("athlete")  # nobody while the API is only being described
        return movements_visible_to(athlete) if athlete else Movement.objects.none()


class ClipFields(serializers.Serializer[Clip]):
    movement = OwnMovement(required=False, allow_null=True)
    load = Load(required=False)
    reps = Whole(1, 50, REPS)
    rpe = Effort(required=False, allow_null=True)
    reps_in_reserve = Whole(0, 10, RESERVE)
    view = serializers.ChoiceField(choices=View.choices, allow_blank=True, required=False)
    shows_fault = serializers.BooleanField(required=False)
    load_confirmed = serializers.BooleanField(default=False, help_text=LOAD_CONFIRMED)

    def changes(self) -> dict[str, Any]:
        """The validated fields under the names of the row."""
        told = dict(self.validated_data)
        del told["load_confirmed"]
        if "load" in told:
            load = told.pop("load")
            told |= {"load_kg": load["kg"], "load_unit": load["unit"]}
        return told


class PainFields(serializers.Serializer[Any]):
    where = serializers.CharField(
        max_length=120,
        error_messages={"blank": "Say where it hurts.", "required": "Say where it hurts."},
    )
    score = serializers.IntegerField(
        min_value=0,
        max_value=10,
        error_messages={
            "min_value": SCORE,
            "max_value": SCORE,
            "invalid": SCORE,
            "required": SCORE,
            "null": SCORE,
        },
    )
    since = serializers.CharField(max_length=80, allow_blank=True, default="")
    signs = serializers.ListField(
        child=serializers.ChoiceField(choices=WarningSign.choices), default=list
    )

    def validate_signs(self, signs: list[str]) -> list[str]:
        """Each once, in the order they are asked."""
        return [sign for sign in WarningSign.values if sign in signs]


class SubmissionFields(serializers.Serializer[Any]):
    question = serializers.CharField(allow_blank=True, max_length=4000, required=False)
    tried = serializers.CharField(allow_blank=True, max_length=4000, required=False)
    goal = serializers.ChoiceField(choices=Goal.choices, allow_blank=True, required=False)
    equipment = serializers.ListField(
        child=serializers.ChoiceField(choices=Equipment.choices), required=False
    )
    pain = PainFields(allow_null=True, required=False)
    round_up = serializers.BooleanField(required=False)

    def validate_equipment(self, items: list[str]) -> list[str]:
        return [item for item in Equipment.values if item in items]
