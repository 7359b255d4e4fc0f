"""A change of the programme from a note: asked for, looked at, and made."""

from decimal import Decimal
from typing import Any
from uuid import UUID

from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from coachdesk.common.validators import validate_name
from programming.corrections.preview import Line, Preview
from programming.limits import CAP_PERCENT
from programming.movements.models import Movement
from programming.permissions import movements_of
from programming.plans.models import TargetKind
from programming.plans.models.correction import Correction, Kind, Place
from reviews.replies.schemas.note import KeptNoteSchema
from reviews.replies.services.read_correction import MAX_NOTE, WEEKS


class AthleteMovementField(serializers.PrimaryKeyRelatedField):
    """A movement of the athlete whom the context names; another one does not exist."""

    def get_queryset(self) -> Any:
        athlete = self.context.get("athlete")  # nobody while the API is only being described
        return movements_of(athlete) if athlete else Movement.objects.none()


class CorrectionRequestSchema(serializers.Serializer[Any]):
    """What the correction page asks; each kind reads its own fields. ``dose`` is written as in the
    programme: 3x5 @ RPE 7. A drill's may have words after it, as the library's doses do: they
    become the note."""

    kind = serializers.ChoiceField(Kind.choices)
    movement = AthleteMovementField(queryset=Movement.objects.all())
    weeks = serializers.ChoiceField(WEEKS, default=4)
    to = AthleteMovementField(queryset=Movement.objects.all(), required=False)
    percent = serializers.DecimalField(**CAP_PERCENT, required=False)
    drill_name = serializers.CharField(max_length=80, required=False, validators=[validate_name])
    name = serializers.CharField(max_length=80, required=False, validators=[validate_name])
    dose = serializers.CharField(max_length=160, required=False)
    place = serializers.ChoiceField(Place.choices, required=False)
    note = serializers.CharField(max_length=MAX_NOTE, required=False)
    sets = serializers.IntegerField(min_value=1, max_value=20, required=False)
    reps = serializers.IntegerField(min_value=1, max_value=100, required=False)
    target_kind = serializers.ChoiceField(TargetKind.choices, required=False)
    target = serializers.DecimalField(
        max_digits=7,
        decimal_places=3,
        min_value=Decimal(0),
        max_value=Decimal(1000),
        required=False,
    )
    tempo = serializers.CharField(max_length=20, required=False)
    rest_seconds = serializers.IntegerField(min_value=1, max_value=900, required=False)


class ApplyCorrectionSchema(CorrectionRequestSchema):
    """``seal``: that of the preview that was looked at."""

    seal = serializers.RegexField("^[0-9a-f]{64}$")
    check_back_on = serializers.DateField(allow_null=True, default=None)
    leave_clashes = serializers.BooleanField(default=False)


class PrescriptionSnapshotSchema(serializers.Serializer[Any]):
    """A prescription as plain values. A decimal is text."""

    movement_id = serializers.IntegerField(allow_null=True)
    sets = serializers.IntegerField()
    reps = serializers.IntegerField()
    target_kind = serializers.ChoiceField(TargetKind.choices, allow_blank=True)
    target = serializers.CharField(allow_null=True)
    unit = serializers.CharField()
    cap_percent = serializers.CharField(allow_null=True)
    held = serializers.BooleanField()
    tempo = serializers.CharField()
    rest_seconds = serializers.IntegerField(allow_null=True)
    note = serializers.CharField()


class PreviewLineSchema(serializers.Serializer[Line]):
    session = serializers.UUIDField(source="session.pk")
    day = serializers.DateField(source="session.day")
    prescription = serializers.UUIDField(source="prescription.pk", allow_null=True, default=None)
    before = PrescriptionSnapshotSchema(allow_null=True)
    after = PrescriptionSnapshotSchema()
    happens = serializers.BooleanField()
    clashes = serializers.SerializerMethodField()

    def get_clashes(self, line: Line) -> list[str]:
        return [clash.said for clash in line.clashes]


class PreviewSchema(serializers.Serializer[Preview]):
    seal = serializers.CharField()
    said = serializers.CharField(source="wish.said")
    lines = PreviewLineSchema(many=True)


class CorrectionSchema(serializers.ModelSerializer[Correction]):
    class Meta:
        model = Correction
        fields = [
            *("id", "athlete", "kind", "said", "made_by", "made_at"),
            *("check_back_on", "taken_back_at", "ended_on"),
        ]


class EndCorrectionSchema(serializers.Serializer[Any]):
    from_day = serializers.DateField()


class ReasonSchema(serializers.Serializer[Correction]):
    """``seen``: what the note said when the correction was made; null where it was made without
    one, or the question may not be read: the context holds the readable ``reasons``, by
    correction."""

    correction = serializers.UUIDField(source="pk")
    said = serializers.CharField()
    made_by = serializers.CharField(source="made_by.name", default="")
    submission = serializers.SerializerMethodField()
    seen = serializers.SerializerMethodField()

    def get_submission(self, correction: Correction) -> UUID | None:
        reason = self.context["reasons"].get(correction.pk)
        return reason and reason.submission_id

    @extend_schema_field(KeptNoteSchema(allow_null=True))
    def get_seen(self, correction: Correction) -> Any:
        reason = self.context["reasons"].get(correction.pk)
        return reason and reason.seen


class ReasonsSchema(serializers.Serializer[Any]):
    reasons = ReasonSchema(many=True)
