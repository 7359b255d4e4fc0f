"""REST of copying a week: what the copy would be, before `copy-week` of the changes places it."""

from decimal import Decimal
from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from coachdesk.common.api.form_serializers import cleaned_data
from coachdesk.common.api.schema import operation_schema
from programming.permissions import programmes_editable_by
from programming.plans.copying import Copied, copied_week
from programming.plans.forms import CopyForm
from programming.plans.grid import unit_for
from programming.plans.programmes_api import PlannedOut, PrescriptionOut

WEEKS = {"type": "integer", "minimum": 1, "maximum": 52}
ASKED = [
    OpenApiParameter("week", WEEKS, required=True),
    OpenApiParameter("to_week", WEEKS, required=True),
    OpenApiParameter("add", Decimal, description="Load added to each that is not capped."),
]


class CopiedOut(PlannedOut):
    """``is_new``: the session is not there yet. ``kept``: rows that a running correction holds
    there, which stay as they are."""

    is_new = serializers.BooleanField()
    kept = serializers.ListField(child=serializers.UUIDField())

    class Meta(PlannedOut.Meta):
        fields = [*PlannedOut.Meta.fields, "is_new", "kept"]


class CopiedWeekOut(serializers.Serializer[Any]):
    sessions = CopiedOut(many=True)


class CopiedWeekView(APIView):
    """What week ``to_week`` would hold; nothing is changed. Ids are those that are there, or
    preliminary."""

    @operation_schema("programmes", gives=CopiedWeekOut, parameters=ASKED)
    def get(self, request: Request, pk: UUID) -> Response:
        user = signed_in(request)
        mine = programmes_editable_by(user).select_related("athlete")
        programme = get_object_or_404(mine, pk=pk)
        asked = cleaned_data(CopyForm(request.query_params))
        copies = copied_week(
            programme,
            asked["week"],
            asked["to_week"],
            add=asked["add"] or Decimal(0),
            unit=unit_for(programme, user),
        )
        return Response({"sessions": [_out(copy) for copy in copies]})


def _out(copy: Copied) -> dict[str, Any]:
    session = copy.session
    names = [name for name in PlannedOut.Meta.fields if name != "prescriptions"]
    return {
        **{name: getattr(session, name) for name in names},
        "prescriptions": PrescriptionOut(copy.lines, many=True).data,
        "is_new": session._state.adding,
        "kept": sorted(copy.kept),
    }
