"""REST of programmes: read whole, made, and arranged by the deeds of the programme's page."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import PolymorphicProxySerializer
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied, ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import User
from athletes.permissions import signed_in
from coachdesk.common.api.form_serializers import (
    MAX_INT,
    as_form_data,
    cleaned_data,
    form_serializer,
    validated_data,
)
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from coachdesk.common.validators import validate_name
from programming.api import ATHLETE, of_one
from programming.permissions import (
    athletes_coached_by,
    programmes_editable_by,
    programmes_visible_to,
)
from programming.plans.forms import StartForm
from programming.plans.models import PlannedSession, Prescription, Programme
from programming.plans.pages.change import DEEDS, arrange
from programming.plans.planning import make_programme
from programming.plans.templating import make_from_template


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
    weeks = serializers.IntegerField(min_value=1, max_value=52, default=4)
    weekdays = serializers.ListField(
        child=serializers.IntegerField(min_value=0, max_value=6), max_length=7, default=list
    )


BODIES = {
    do: form_serializer(f"{do.title().replace('-', '')}In", form, do=serializers.ChoiceField([do]))
    for do, (form, _) in DEEDS.items()
}
CHANGE = PolymorphicProxySerializer(
    component_name="ProgrammeChange",
    serializers=dict(BODIES),
    resource_type_field_name="do",
)


class ChangedOut(serializers.Serializer[Any]):
    """``programme`` is null where the change took it away (an ended template)."""

    said = serializers.CharField()
    programme = ProgrammeOut(allow_null=True)


class ProgrammesView(APIView):
    """One's own, or the club's with its templates; the newest first. POST makes one."""

    @list_schema("programmes", ProgrammeOut, parameters=[ATHLETE], operation_id="programmes_list")
    def get(self, request: Request) -> Response:
        rows = programmes_visible_to(signed_in(request))
        rows = of_one(rows, request)
        return paginated_response(rows, ProgrammeOut, request=request, view=self, by="-made_at")

    @operation_schema("programmes", ProgrammeIn, ProgrammeOut, 201)
    def post(self, request: Request) -> Response:
        user = signed_in(request)
        if not user.is_coach:
            raise PermissionDenied("Coaches make programmes.")
        told = validated_data(ProgrammeIn, request.data)
        athlete = None
        if told["athlete"] is not None:
            athlete = get_object_or_404(athletes_coached_by(user), pk=told["athlete"])
        form = StartForm(as_form_data(told), by=user, athlete=athlete)
        made = _made(user, athlete, cleaned_data(form))
        return Response(ProgrammeOut(made).data, status=201)


def _made(by: User, athlete: User | None, told: dict[str, Any]) -> Programme:
    if athlete is not None and told["template"]:
        return make_from_template(
            by=by,
            template=told["template"],
            athlete=athlete,
            starts_on=told["starts_on"],
            name=told["name"],
        )
    names = ("name", "weeks", "weekdays", "starts_on")
    own = {name: told[name] for name in names if name in told}
    return make_programme(by=by, athlete=athlete, club=by.club, **own)


class ProgrammeView(APIView):
    """The whole of it: sessions with what is prescribed."""

    @operation_schema("programmes", gives=WholeProgrammeOut)
    def get(self, request: Request, pk: UUID) -> Response:
        seen = programmes_visible_to(signed_in(request))
        found = get_object_or_404(seen.prefetch_related("sessions__prescriptions"), pk=pk)
        return Response(WholeProgrammeOut(found).data)


class ChangesView(APIView):
    """POST does what a button of the programme's page does. ``seen`` is the revision that was
    read: 409 when somebody changed it since."""

    @operation_schema("programmes", CHANGE, ChangedOut)
    def post(self, request: Request, pk: UUID) -> Response:
        user = signed_in(request)
        programme = get_object_or_404(programmes_editable_by(user), pk=pk)
        do = request.data.get("do") if isinstance(request.data, dict) else None
        if not isinstance(do, str) or do not in DEEDS:
            raise ValidationError({"do": f"One of: {', '.join(DEEDS)}."})
        form, _ = DEEDS[do]
        told = cleaned_data(form(as_form_data(validated_data(BODIES[do], request.data))))
        said = arrange(user, programme, do, told)
        left = Programme.objects.filter(pk=pk).first()
        return Response({"said": said, "programme": ProgrammeOut(left).data if left else None})
