"""REST of what was lifted, for the athlete and the coaches of the club; and maxes set by hand."""

from typing import Any

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import people_visible_to, signed_in
from coachdesk.common.api.form_serializers import MAX_INT
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from programming.api import ATHLETE, of_one
from programming.logs.models import (
    BodyWeight,
    DaySummary,
    LoggedSession,
    LoggedSet,
    MaxKind,
    MaxRecord,
)
from programming.logs.serializers import LOAD_CONFIRMED
from programming.logs.setting_max import set_by_hand
from programming.permissions import (
    athletes_coached_by,
    body_weights_visible_to,
    logged_sessions_visible_to,
    max_records_visible_to,
    movements_of,
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


class MaxIn(serializers.Serializer[Any]):
    athlete = serializers.IntegerField(min_value=1, max_value=MAX_INT)
    movement = serializers.IntegerField(min_value=1, max_value=MAX_INT)
    kind = serializers.ChoiceField(MaxKind.choices)
    kg = serializers.DecimalField(max_digits=7, decimal_places=3, min_value=0)
    day = serializers.DateField()
    reason = serializers.CharField(max_length=200)
    load_confirmed = serializers.BooleanField(default=False, help_text=LOAD_CONFIRMED)


class LogView(APIView):
    """Sessions as they were trained with their sets, the newest first."""

    @list_schema("log", SessionOut, parameters=[ATHLETE], operation_id="log_list")
    def get(self, request: Request) -> Response:
        rows = of_one(logged_sessions_visible_to(signed_in(request)), request)
        rows = rows.prefetch_related("sets")
        return paginated_response(rows, SessionOut, request=request, view=self, by="-day")


class BodyWeightsView(APIView):
    """Body weights, the newest first."""

    @list_schema("log", BodyWeightOut, parameters=[ATHLETE], operation_id="body_weights_list")
    def get(self, request: Request) -> Response:
        rows = of_one(body_weights_visible_to(signed_in(request)), request)
        return paginated_response(rows, BodyWeightOut, request=request, view=self, by="-day")


class LoadView(APIView):
    """What each day came to, the newest first. Made again soon after each change of the log."""

    @list_schema("log", LoadOut, parameters=[ATHLETE], operation_id="load_list")
    def get(self, request: Request) -> Response:
        people = people_visible_to(signed_in(request))
        rows = of_one(DaySummary.objects.filter(athlete__in=people), request)
        return paginated_response(rows, LoadOut, request=request, view=self, by="-day")


class MaxesView(APIView):
    """Every max that ever counted, the newest first; POST by a coach sets one by hand."""

    @list_schema("log", MaxOut, parameters=[ATHLETE], operation_id="maxes_list")
    def get(self, request: Request) -> Response:
        rows = of_one(max_records_visible_to(signed_in(request)), request)
        return paginated_response(rows, MaxOut, request=request, view=self, by="-day")

    @operation_schema("log", MaxIn, MaxOut, 201)
    def post(self, request: Request) -> Response:
        user = signed_in(request)
        if not user.is_coach:
            raise PermissionDenied("A coach sets a max.")
        sent = MaxIn(data=request.data)
        sent.is_valid(raise_exception=True)
        told = dict(sent.validated_data)
        athlete = get_object_or_404(athletes_coached_by(user), pk=told.pop("athlete"))
        movement = get_object_or_404(movements_of(athlete), pk=told.pop("movement"))
        made = set_by_hand(by=user, athlete=athlete, movement=movement, **told)
        return Response(MaxOut(made).data, status=201)
