"""What the API and the pages take and say of programmes, and of the day's session."""

from typing import Any

from django.template.loader import render_to_string
from drf_spectacular.utils import extend_schema_field
from rest_framework import serializers

from athletes.models import Unit, User
from coachdesk.common.api.form_serializers import MAX_INT
from coachdesk.common.errors import Invalid
from coachdesk.common.units import shown
from coachdesk.common.validators import validate_name
from programming.logs.models import BodyWeight
from programming.logs.schemas import PlainDecimal, TypedSessionOut, TypedSetOut, UtcDateTime, plain
from programming.logs.selectors.last_times import LastTime
from programming.movements.models import Movement
from programming.plans.models import PlannedSession, Prescription, Programme
from programming.plans.plates import HEAVIEST_BAR, LIGHTEST_BAR, Pairs, Plates, read_pairs
from programming.plans.selectors.programme_grid import Cell
from programming.plans.selectors.training_day import training_day
from programming.plans.services.arrange_sessions import MOST_WEEKS

STRING_OR_INTEGER = {"type": ["string", "integer"]}


class CellIn(serializers.Serializer):
    session = serializers.UUIDField()
    row = serializers.UUIDField()
    text = serializers.CharField(allow_blank=True, max_length=120)
    note = serializers.CharField(allow_blank=True, required=False, default=None, max_length=300)


class CellsIn(serializers.Serializer):
    """``seen``: the revision of the programme that the page shows."""

    seen = serializers.IntegerField(min_value=1)
    cells = CellIn(many=True, allow_empty=False, max_length=400)  # type: ignore[call-arg]


class PrescriptionOut(serializers.ModelSerializer[Prescription]):
    class Meta:
        model = Prescription
        fields = [
            *("id", "row", "position", "movement", "sets", "reps", "target_kind", "target"),
            *("unit", "cap_percent", "held", "tempo", "rest_seconds", "note"),
        ]


class PlannedOut(serializers.ModelSerializer[PlannedSession]):
    prescriptions = PrescriptionOut(many=True)

    class Meta:
        model = PlannedSession
        fields = ["id", "week", "position", "name", "day", "weekday", "note", "prescriptions"]


class ProgrammeOut(serializers.ModelSerializer[Programme]):
    class Meta:
        model = Programme
        fields = ["id", "athlete", "name", "starts_on", "weeks", "made_at", "ended_at", "revision"]


class WholeProgrammeOut(ProgrammeOut):
    sessions = PlannedOut(many=True)

    class Meta(ProgrammeOut.Meta):
        fields = [*ProgrammeOut.Meta.fields, "sessions"]


class ProgrammeIn(serializers.Serializer[Any]):
    """Without ``athlete`` a template, without ``starts_on``. ``template`` brings its own weeks."""

    athlete = serializers.IntegerField(
        min_value=1, max_value=MAX_INT, allow_null=True, default=None
    )
    template = serializers.UUIDField(allow_null=True, default=None)
    name = serializers.CharField(max_length=120, validators=[validate_name])
    starts_on = serializers.DateField(allow_null=True, default=None)
    weeks = serializers.IntegerField(min_value=1, max_value=MOST_WEEKS, default=4)
    weekdays = serializers.ListField(
        child=serializers.IntegerField(min_value=0, max_value=6), max_length=7, default=list
    )

    def validate(self, attrs: dict[str, Any]) -> dict[str, Any]:
        if attrs["athlete"] and attrs["starts_on"] is None:
            raise serializers.ValidationError({"starts_on": "This field is required."})
        if not attrs["weekdays"] and not (attrs["athlete"] and attrs["template"]):
            raise serializers.ValidationError({"weekdays": "Choose at least one training day."})
        return attrs


class ChangedOut(serializers.Serializer[Any]):
    """``programme`` is null where the change took it away (an ended template)."""

    said = serializers.CharField()
    programme = ProgrammeOut(allow_null=True)


class CopiedOut(PlannedOut):
    """``is_new``: the session is not there yet. ``kept``: rows that a running correction holds
    there, which stay as they are."""

    is_new = serializers.BooleanField()
    kept = serializers.ListField(child=serializers.UUIDField())

    class Meta(PlannedOut.Meta):
        fields = [*PlannedOut.Meta.fields, "is_new", "kept"]

    def to_representation(self, instance: Any) -> dict[str, Any]:
        """Of a `Copied`."""
        session = instance.session
        facts = {name: getattr(session, name) for name in PlannedOut.Meta.fields[:-1]}
        copied = {"is_new": session._state.adding, "kept": sorted(instance.kept)}
        whole: Any = {**facts, "prescriptions": instance.lines, **copied}
        return super().to_representation(whole)


class CopiedWeekOut(serializers.Serializer[Any]):
    sessions = CopiedOut(many=True)


class CellOut(serializers.Serializer[Any]):
    """A cell of the grid as it now stands. ``kg``: what goes on the bar; ``how``: the formula in
    words; ``html``: as the page draws it."""

    text = serializers.CharField()
    kg = serializers.CharField(source="resolved.kg", allow_null=True, default=None)
    how = serializers.CharField(source="resolved.how", default="")
    html = serializers.SerializerMethodField()

    def get_html(self, cell: Cell) -> str:
        facts = {"cell": cell, "unit": self.context["unit"]}
        return render_to_string("programming/plans/parts/cell.html", facts).strip()


class CellsOut(serializers.Serializer[Any]):
    """``cells``: each of the touched rows by "session:row"; ``sets`` of each week; ``refused``: a
    sentence for each cell that stays as it was."""

    revision = serializers.IntegerField()
    cells = serializers.DictField(child=CellOut())
    sets = serializers.DictField(child=serializers.CharField())
    refused = serializers.DictField(child=serializers.CharField())


class PlatesIn(serializers.Serializer[Any]):
    """The bar and the pairs, in one unit. ``pairs`` is written like ``25x4, 20x1, 1.25x1``."""

    unit = serializers.ChoiceField(Unit.choices)
    bar = serializers.DecimalField(
        max_digits=6, decimal_places=3, min_value=LIGHTEST_BAR, max_value=HEAVIEST_BAR
    )
    pairs = serializers.CharField(max_length=300)

    def validate_pairs(self, text: str) -> Pairs:
        try:
            return read_pairs(text)
        except Invalid as refusal:
            raise serializers.ValidationError(str(refusal)) from None


class PlatesOut(serializers.Serializer[Any]):
    """In ``unit``. ``told``: by somebody, or what most gyms have. ``loads``: every weight that the
    bar can be loaded to, the lightest first."""

    unit = serializers.ChoiceField(Unit.choices)
    bar = PlainDecimal()
    pairs = serializers.CharField(source="written", help_text="Such as 25x4, 20x1, 1.25x1.")
    told = serializers.BooleanField()
    loads = serializers.ListField(child=PlainDecimal())


class FeedOut(serializers.Serializer[Any]):
    """``made_at``: since when it is open; null when it is not."""

    made_at = serializers.DateTimeField(allow_null=True)


class FeedMade(FeedOut):
    """``address`` is told this once: null when the request is repeated."""

    address = serializers.URLField(allow_null=True)


class PlatesAtHandOut(serializers.Serializer[Any]):
    """``pairs``: of (weight of one plate, pairs of it)."""

    unit = serializers.ChoiceField(Unit.choices)
    bar = PlainDecimal()
    pairs = serializers.SerializerMethodField()

    @extend_schema_field({"type": "array", "items": {"type": "array", "items": STRING_OR_INTEGER}})
    def get_pairs(self, plates: Plates) -> list[list[str | int | None]]:
        return [[plain(weight), pairs] for weight, pairs in plates.pairs]


class OfferedMovementOut(serializers.ModelSerializer[Movement]):
    class Meta:
        model = Movement
        fields = ["id", "name", "family"]


class LineChangeOut(serializers.Serializer[Any]):
    """What a running correction did to a line."""

    said = serializers.CharField()
    by = serializers.CharField()
    was = serializers.CharField(allow_null=True)


class TrainingLineOut(serializers.Serializer[Any]):
    """``load`` in the athlete's unit, null where they decide; ``side``: the plates of one side in
    the unit of the plates; ``how``: the formula in words; ``rest`` in seconds."""

    id = serializers.UUIDField(source="prescription.pk")
    movement = serializers.IntegerField(source="prescription.movement_id")
    sets = serializers.IntegerField(source="prescription.sets")
    reps = serializers.IntegerField(source="prescription.reps")
    target = serializers.CharField()
    load = serializers.CharField(allow_null=True)
    side = serializers.ListField(child=PlainDecimal(), source="on_bar.side", allow_null=True)
    how = serializers.CharField(source="on_bar.how")
    suggested = serializers.BooleanField(source="on_bar.suggested")
    capped = serializers.BooleanField(source="on_bar.capped")
    rpe = PlainDecimal(source="prescription.target_rpe", allow_null=True)
    tempo = serializers.CharField(source="prescription.tempo")
    rest = serializers.IntegerField(source="prescription.rest_seconds", allow_null=True)
    note = serializers.CharField(source="prescription.note")
    held = serializers.BooleanField(source="prescription.held")
    changes = LineChangeOut(many=True)


class TrainingSessionOut(serializers.Serializer[Any]):
    id = serializers.UUIDField(source="session.pk")
    log = serializers.UUIDField()
    first_revision = serializers.IntegerField()
    name = serializers.CharField(source="session")
    programme = serializers.CharField(source="session.programme.name")
    day = serializers.DateField(source="session.day")
    note = serializers.CharField(source="session.note")
    lines = TrainingLineOut(many=True)


class TypedLogOut(TypedSessionOut):
    sets = TypedSetOut(many=True)

    class Meta(TypedSessionOut.Meta):
        fields = [*TypedSessionOut.Meta.fields, "sets"]


class LastTimeOut(serializers.Serializer[Any]):
    """The newest day before today on which a movement was lifted; loads in the athlete's unit."""

    day = serializers.DateField()
    words = serializers.SerializerMethodField()
    load = serializers.SerializerMethodField()
    reps = serializers.IntegerField(source="last_reps")

    def get_words(self, last: LastTime) -> str:
        return last.words(self.context["unit"])

    def get_load(self, last: LastTime) -> str | None:
        return None if last.top_kg is None else shown(last.top_kg, self.context["unit"])


class UnusualLoadOut(serializers.Serializer[Any]):
    """What the phone asks about without a network, by the same rule as the server."""

    above = PlainDecimal()
    question = serializers.CharField()
    known_kg = serializers.DictField(child=PlainDecimal())


class EffortOut(serializers.Serializer[Any]):
    value = serializers.IntegerField()
    word = serializers.CharField()


class BodyWeightShownOut(serializers.Serializer[Any]):
    day = serializers.DateField()
    weight = serializers.SerializerMethodField()

    def get_weight(self, row: BodyWeight) -> str:
        return shown(row.kg, self.context["unit"])


class TrainingDayOut(serializers.Serializer[Any]):
    """What the phone holds. ``urls``: with the all-zero id and day where it puts its own."""

    athlete = serializers.IntegerField(source="athlete.pk")
    unit = serializers.ChoiceField(Unit.choices, source="athlete.unit")
    zone = serializers.CharField(source="athlete.timezone")
    today = serializers.DateField()
    as_of = UtcDateTime()
    plates = PlatesAtHandOut()
    movements = OfferedMovementOut(many=True)
    planned = TrainingSessionOut(many=True)
    logs = TypedLogOut(many=True)
    last = serializers.DictField(child=LastTimeOut())
    unusual = UnusualLoadOut()
    efforts = EffortOut(many=True)
    weights = BodyWeightShownOut(many=True)
    urls = serializers.DictField(child=serializers.CharField())


def training_day_data(athlete: User) -> dict[str, Any]:
    """The day for the page and the API."""
    return TrainingDayOut(training_day(athlete), context={"unit": athlete.unit}).data
