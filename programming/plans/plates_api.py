"""REST of what an athlete can put on the bar."""

from typing import Any

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import Role, Unit, User
from athletes.permissions import people_visible_to, signed_in
from coachdesk.common.api.form_serializers import (
    as_form_data,
    cleaned_data,
    form_serializer,
    validated_data,
)
from coachdesk.common.api.schema import operation_schema
from programming.plans.forms import PlatesForm
from programming.plans.loads import plates_of
from programming.plans.plates import set_plates, written_pairs
from programming.plans.plating import Plates, loadable

PlatesIn = form_serializer("PlatesIn", PlatesForm)


class PlatesOut(serializers.Serializer[Any]):
    """In ``unit``. ``told``: by somebody, or what most gyms have. ``loads``: every weight that the
    bar can be loaded to, the lightest first."""

    unit = serializers.ChoiceField(Unit.choices)
    bar = serializers.CharField()
    pairs = serializers.CharField(help_text="Such as 25x4, 20x1, 1.25x1.")
    told = serializers.BooleanField()
    loads = serializers.ListField(child=serializers.CharField())


class PlatesView(APIView):
    """PUT tells them; every load of the athlete is rounded to these from then on."""

    @operation_schema("programmes", gives=PlatesOut)
    def get(self, request: Request, pk: int) -> Response:
        return Response(_out(plates_of(_athlete(request, pk))))

    @operation_schema("programmes", PlatesIn, PlatesOut)
    def put(self, request: Request, pk: int) -> Response:
        athlete = _athlete(request, pk)
        told = cleaned_data(PlatesForm(as_form_data(validated_data(PlatesIn, request.data))))
        return Response(_out(set_plates(athlete=athlete, **told)))


def _athlete(request: Request, pk: int) -> User:
    people = people_visible_to(signed_in(request)).filter(role=Role.ATHLETE)
    return get_object_or_404(people, pk=pk)


def _out(plates: Plates) -> dict[str, Any]:
    return {
        "unit": plates.unit,
        "bar": f"{plates.bar.normalize():f}",
        "pairs": written_pairs(plates.pairs),
        "told": plates.told,
        "loads": [f"{one.total.normalize():f}" for one in loadable(plates)],
    }
