"""What the API and the pages take and say of the log. Numbers come as text, so that 62.5 stays
62.5."""

from datetime import UTC
from decimal import Decimal
from typing import Any

from drf_spectacular.utils import PolymorphicProxySerializer
from rest_framework import serializers

from athletes.models import Unit
from coachdesk.common.api.form_serializers import MAX_INT
from coachdesk.common.units import as_typed
from programming.logs.models import (
    BodyWeight,
    DaySummary,
    LoggedSession,
    LoggedSet,
    MaxKind,
    MaxRecord,
)
from programming.logs.unusual_load import QUESTIONED_ABOVE

LOAD_CONFIRMED = (
    f"The load is meant. Without it a load over {QUESTIONED_ABOVE:.0%} of the max known for the "
    "movement is refused with a question, in `errors.load_confirmed`, so that a slip of the keypad "
    "is not stored."
)


def plain(number: Decimal | None) -> str | None:
    """A decimal as it is written: "8.5", "8"; null where it is not known."""
    return None if number is None else f"{number.normalize():f}"


class PlainDecimal(serializers.DecimalField):
    """Text without trailing zeros."""

    def __init__(self, **more: Any) -> None:
        super().__init__(max_digits=None, decimal_places=None, normalize_output=True, **more)


class UtcDateTime(serializers.DateTimeField):
    def __init__(self, **more: Any) -> None:
        super().__init__(default_timezone=UTC, **more)


class HalfPoints(serializers.DecimalField):
    """An effort from ``least`` to 10 in steps of a half."""

    def __init__(self, *, least: int, **more: Any) -> None:
        super().__init__(max_digits=3, decimal_places=1, min_value=least, max_value=10, **more)

    def to_internal_value(self, data: Any) -> Any:
        value = super().to_internal_value(data)
        if value * 2 % 1:
            raise serializers.ValidationError("An effort goes in steps of a half.")
        return value


class RevisionIn(serializers.Serializer[Any]):
    """``revision``: the phone's own count of changes."""

    revision = serializers.IntegerField(min_value=1, max_value=1_000_000)


class SessionIn(RevisionIn):
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


class SetIn(RevisionIn):
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


class WeightIn(serializers.Serializer[Any]):
    weight = serializers.DecimalField(max_digits=7, decimal_places=3, allow_null=True)
    unit = serializers.ChoiceField(Unit.choices, default=Unit.KG)


class MaxIn(serializers.Serializer[Any]):
    athlete = serializers.IntegerField(min_value=1, max_value=MAX_INT)
    movement = serializers.IntegerField(min_value=1, max_value=MAX_INT)
    kind = serializers.ChoiceField(MaxKind.choices)
    kg = serializers.DecimalField(max_digits=7, decimal_places=3, min_value=0)
    day = serializers.DateField()
    reason = serializers.CharField(max_length=200)
    load_confirmed = serializers.BooleanField(default=False, help_text=LOAD_CONFIRMED)


class TypedSetOut(serializers.ModelSerializer[LoggedSet]):
    """As the phone holds it: ``load`` is in ``unit``, as it was typed."""

    load = serializers.SerializerMethodField()
    unit = serializers.ChoiceField(Unit.choices, source="load_unit")
    rpe = PlainDecimal(allow_null=True)
    done_at = UtcDateTime()

    class Meta:
        model = LoggedSet
        fields = [
            *("id", "session", "movement", "prescription", "position", "load", "unit", "reps"),
            *("missed_reps", "rpe", "note", "done_at", "revision"),
        ]
        read_only_fields = fields

    def get_load(self, row: LoggedSet) -> str | None:
        return None if row.load_kg is None else as_typed(row.load_kg, row.load_unit)


class TypedSessionOut(serializers.ModelSerializer[LoggedSession]):
    """As the phone holds it."""

    session_rpe = PlainDecimal(allow_null=True)
    started_at = UtcDateTime()
    finished_at = UtcDateTime(allow_null=True)

    class Meta:
        model = LoggedSession
        fields = [
            *("id", "planned", "day", "session_rpe", "minutes", "note", "started_at"),
            *("finished_at", "revision"),
        ]
        read_only_fields = fields


class StoredOut(serializers.Serializer[Any]):
    """``as_of`` is the server's clock: what the phone holds from before it is settled."""

    as_of = UtcDateTime()


class GoneOut(StoredOut):
    """It was taken out meanwhile, here or on another phone."""

    gone = serializers.BooleanField()


class StoredSessionOut(StoredOut):
    session = TypedSessionOut()


class StoredSetOut(StoredOut):
    set = TypedSetOut()


class StoredWeightOut(StoredOut):
    day = serializers.DateField()
    kg = PlainDecimal(allow_null=True)


def or_gone(stored: type[StoredOut]) -> PolymorphicProxySerializer:
    """What is stored by now, or that it is not."""
    return PolymorphicProxySerializer(
        component_name=f"{stored.__name__}OrGone",
        serializers=[stored, GoneOut],
        resource_type_field_name=None,
    )


class SetOut(serializers.ModelSerializer[LoggedSet]):
    class Meta:
        model = LoggedSet
        fields = [
            *("id", "movement", "prescription", "position", "load_kg", "load_unit", "reps"),
            *("missed_reps", "rpe", "note", "done_at", "revision"),
        ]


class SessionOut(serializers.ModelSerializer[LoggedSession]):
    sets = SetOut(many=True)

    class Meta:
        model = LoggedSession
        fields = [
            *("id", "athlete", "planned", "day", "session_rpe", "minutes", "note"),
            *("started_at", "finished_at", "revision", "sets"),
        ]


class BodyWeightOut(serializers.ModelSerializer[BodyWeight]):
    class Meta:
        model = BodyWeight
        fields = ["athlete", "day", "kg"]


class MaxOut(serializers.ModelSerializer[MaxRecord]):
    class Meta:
        model = MaxRecord
        fields = [
            *("id", "athlete", "movement", "kind", "source", "day", "kg", "low_kg", "high_kg"),
            "reason",
        ]


class LoadOut(serializers.ModelSerializer[DaySummary]):
    """A day of one family of lifts, or (``family`` empty) of all. Loads in kg; ``session_load`` in
    arbitrary units."""

    class Meta:
        model = DaySummary
        fields = [
            *("athlete", "day", "family", "session_load", "sets", "sets_loaded", "sets_with_max"),
            *("sets_with_effort", "reps", "reps_with_max", "hard_sets", "volume_load"),
            "relative_volume_load",
        ]
