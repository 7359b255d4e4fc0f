"""REST of programmes: their grid, plates, calendar, and the session of the day."""

from decimal import Decimal
from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from drf_spectacular.utils import OpenApiParameter, PolymorphicProxySerializer
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied, ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import Role, User
from athletes.permissions import people_visible_to, signed_in
from coachdesk.common.api.form_serializers import (
    validated_data,
)
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from programming.api import ATHLETE, of_one
from programming.permissions import (
    athletes_coached_by,
    may_log,
    programmes_editable_by,
    programmes_visible_to,
)
from programming.plans.actions import ACTIONS, CopyWeekIn, arrange
from programming.plans.models import CalendarFeed, Programme
from programming.plans.schemas import (
    CellsIn,
    CellsOut,
    ChangedOut,
    CopiedWeekOut,
    FeedMade,
    FeedOut,
    PlatesIn,
    PlatesOut,
    ProgrammeIn,
    ProgrammeOut,
    TrainingDayOut,
    WholeProgrammeOut,
    training_day_data,
)
from programming.plans.selectors.loads import plates_of
from programming.plans.selectors.programme_grid import grid_of, unit_for
from programming.plans.services.arrange_sessions import make_programme
from programming.plans.services.copy_sessions import copied_week
from programming.plans.services.save_template import make_from_template
from programming.plans.services.set_plates import set_plates
from programming.plans.services.share_calendar import address_of, close_feed, open_feed
from programming.plans.services.write_prescriptions import Cell, write_cells


class CellsView(APIView):
    """PATCH: ``{"seen": 7, "cells": [{"session", "row", "text": "3x5 @ 82.5%"}]}``; an empty text
    clears a cell."""

    @operation_schema("programmes", CellsIn, CellsOut)
    def patch(self, request: Request, pk: UUID) -> Response:
        user = signed_in(request)
        mine = programmes_editable_by(user).select_related("athlete")
        programme = get_object_or_404(mine, pk=pk)
        unit = unit_for(programme, user)
        data = validated_data(CellsIn, request.data)
        cells = [Cell(**cell) for cell in data["cells"]]
        written = write_cells(programme=programme, seen=data["seen"], cells=cells, unit=unit)
        grid = grid_of(written.programme, unit=unit)
        drawn = grid.cells(cell.row for cell in cells)
        result = {
            "revision": written.programme.revision,
            "cells": {cell.key: cell for cell in drawn if cell.session},
            "sets": {week.number: week.sets for week in grid.weeks},
            "refused": {f"{s}:{row}": why for (s, row), why in written.refused.items()},
        }
        return Response(CellsOut(result, context={"unit": unit}).data)


def _body(do: str) -> Any:
    """What an action operation_schema, with its name."""
    name = f"{do.title().replace('-', '')}In"
    return type(name, (ACTIONS[do][0],), {"do": serializers.ChoiceField([do])})


CHANGE = PolymorphicProxySerializer(
    component_name="ProgrammeChange",
    serializers={do: _body(do) for do in ACTIONS},
    resource_type_field_name="do",
)


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
        data = validated_data(ProgrammeIn, request.data)
        athlete, template = data.pop("athlete"), data.pop("template")
        if athlete is None:
            made = make_programme(by=user, athlete=None, club=user.club, **data)
            return Response(ProgrammeOut(made).data, status=201)
        athlete = get_object_or_404(athletes_coached_by(user), pk=athlete)
        if template is None:
            made = make_programme(by=user, athlete=athlete, club=user.club, **data)
        else:
            own = {name: data[name] for name in ("name", "starts_on")}
            template = _template(user, template)
            made = make_from_template(by=user, template=template, athlete=athlete, **own)
        return Response(ProgrammeOut(made).data, status=201)


def _template(user: User, pk: UUID) -> Programme:
    template = programmes_visible_to(user).filter(athlete=None, pk=pk).first()
    if template is None:
        raise ValidationError({"template": ["Choose a template of the club."]})
    return template


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
        if not isinstance(do, str) or do not in ACTIONS:
            raise ValidationError({"do": f"One of: {', '.join(ACTIONS)}."})
        data = validated_data(ACTIONS[do][0], request.data)
        sentence = arrange(user, programme, do, data)
        left = Programme.objects.filter(pk=pk).first()
        return Response({"said": sentence, "programme": ProgrammeOut(left).data if left else None})


WEEKS = {"type": "integer", "minimum": 1, "maximum": 52}


ASKED = [
    OpenApiParameter("week", WEEKS, required=True),
    OpenApiParameter("to_week", WEEKS, required=True),
    OpenApiParameter("add", Decimal, description="Load added to each that is not capped."),
]


class CopiedView(APIView):
    """What week ``to_week`` would hold; nothing is changed. Ids are those that are there, or
    preliminary."""

    @operation_schema("programmes", gives=CopiedWeekOut, parameters=ASKED)
    def get(self, request: Request, pk: UUID) -> Response:
        user = signed_in(request)
        mine = programmes_editable_by(user).select_related("athlete")
        programme = get_object_or_404(mine, pk=pk)
        wanted = validated_data(CopyWeekIn, request.query_params)
        copies = copied_week(programme, **wanted, unit=unit_for(programme, user))
        return Response(CopiedWeekOut({"sessions": copies}).data)


class PlatesView(APIView):
    """PUT tells them; every load of the athlete is rounded to these from then on."""

    @operation_schema("programmes", gives=PlatesOut)
    def get(self, request: Request, pk: int) -> Response:
        return Response(PlatesOut(plates_of(_athlete(request, pk))).data)

    @operation_schema("programmes", PlatesIn, PlatesOut)
    def put(self, request: Request, pk: int) -> Response:
        athlete = _athlete(request, pk)
        plates = set_plates(athlete=athlete, **validated_data(PlatesIn, request.data))
        return Response(PlatesOut(plates).data)


def _athlete(request: Request, pk: int) -> User:
    people = people_visible_to(signed_in(request)).filter(role=Role.ATHLETE)
    return get_object_or_404(people, pk=pk)


class CalendarView(APIView):
    """An athlete's own. POST makes a new address, and the one before opens nothing any more;
    DELETE closes it."""

    secret_fields = ("address",)

    @operation_schema("programmes", gives=FeedOut)
    def get(self, request: Request) -> Response:
        feed = CalendarFeed.objects.filter(athlete=self._athlete(request)).first()
        return Response(FeedOut({"made_at": feed and feed.made_at}).data)

    @operation_schema("programmes", gives=FeedMade, status=201)
    def post(self, request: Request) -> Response:
        athlete = self._athlete(request)
        address = address_of(open_feed(athlete=athlete))
        feed = CalendarFeed.objects.get(athlete=athlete)
        data = {"made_at": feed.made_at, "address": address}
        return Response(FeedMade(data).data, status=201)

    @operation_schema("programmes", status=204)
    def delete(self, request: Request) -> Response:
        close_feed(athlete=self._athlete(request))
        return Response(status=204)

    def _athlete(self, request: Request) -> User:
        user = signed_in(request)
        if not may_log(user):
            raise PermissionDenied("Only an athlete has a calendar of sessions.")
        return user


class TrainingDayView(APIView):
    """What another phone logged meanwhile, and what the coach changed."""

    @operation_schema("log", gives=TrainingDayOut, operation_id="training")
    def get(self, request: Request) -> Response:
        athlete = signed_in(request)
        if not may_log(athlete):
            raise PermissionDenied("A log is its athlete's to write.")
        return Response(training_day_data(athlete))
