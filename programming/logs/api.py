"""The log over REST.

What an athlete's phone puts and deletes carries the phone's own count of changes: the same one
twice is the same as once, and each answer is what is stored by now.
"""

from datetime import date
from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from django.utils import timezone
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import User
from athletes.permissions import people_visible_to, signed_in
from coachdesk.common.api.form_serializers import validated_data
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from programming.api import ATHLETE, of_one
from programming.logs.models import DaySummary
from programming.logs.schemas import (
    BodyWeightOut,
    GoneOut,
    LoadOut,
    MaxIn,
    MaxOut,
    RevisionIn,
    SessionIn,
    SessionOut,
    SetIn,
    StoredOut,
    StoredSessionOut,
    StoredSetOut,
    StoredWeightOut,
    WeightIn,
    or_gone,
)
from programming.logs.services.log_session import Gone, put_session, remove_session
from programming.logs.services.log_set import put_set, remove_set
from programming.logs.services.record_body_weight import record_body_weight
from programming.logs.services.set_max import set_max
from programming.permissions import (
    athletes_coached_by,
    body_weights_visible_to,
    logged_sessions_visible_to,
    max_records_visible_to,
    may_log,
    movements_of,
)


class OwnLogView(APIView):
    """Only athletes write, each their own; what the use cases refuse becomes an answer."""

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        if not may_log(self.athlete()):
            raise PermissionDenied("A log is its athlete's to write.")

    def athlete(self) -> User:
        return signed_in(self.request)

    def handle_exception(self, exc: Exception) -> Response:
        return gone() if isinstance(exc, Gone) else super().handle_exception(exc)


def gone() -> Response:
    return stored(GoneOut, gone=True)


def stored(schema: type[StoredOut], **data: Any) -> Response:
    return Response(schema({**data, "as_of": timezone.now()}).data)


class SessionView(OwnLogView):
    @operation_schema("log", SessionIn, or_gone(StoredSessionOut))
    def put(self, request: Request, session_id: UUID) -> Response:
        data = validated_data(SessionIn, request.data)
        row = put_session(athlete=self.athlete(), session_id=session_id, **data)
        return stored(StoredSessionOut, session=row)

    @operation_schema("log", RevisionIn, GoneOut)
    def delete(self, request: Request, session_id: UUID) -> Response:
        data = validated_data(RevisionIn, request.data)
        remove_session(athlete=self.athlete(), session_id=session_id, **data)
        return gone()


class SetView(OwnLogView):
    @operation_schema("log", SetIn, or_gone(StoredSetOut))
    def put(self, request: Request, session_id: UUID, set_id: UUID) -> Response:
        data = validated_data(SetIn, request.data)
        row = put_set(athlete=self.athlete(), session_id=session_id, set_id=set_id, **data)
        return stored(StoredSetOut, set=row)

    @operation_schema("log", RevisionIn, GoneOut)
    def delete(self, request: Request, session_id: UUID, set_id: UUID) -> Response:
        data = validated_data(RevisionIn, request.data)
        remove_set(athlete=self.athlete(), session_id=session_id, set_id=set_id, **data)
        return gone()


class BodyWeightView(OwnLogView):
    @operation_schema("log", WeightIn, StoredWeightOut)
    def put(self, request: Request, day: date) -> Response:
        data = validated_data(WeightIn, request.data)
        row = record_body_weight(athlete=self.athlete(), day=day, **data)
        return stored(StoredWeightOut, day=day, kg=row.kg if row else None)


class SessionsView(APIView):
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
        data = validated_data(MaxIn, request.data)
        athlete = get_object_or_404(athletes_coached_by(user), pk=data.pop("athlete"))
        movement = get_object_or_404(movements_of(athlete), pk=data.pop("movement"))
        record = set_max(by=user, athlete=athlete, movement=movement, **data)
        return Response(MaxOut(record).data, status=201)
