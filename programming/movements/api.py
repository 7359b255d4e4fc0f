"""REST of movements: the shipped ones, the club's, and variants of one's own."""

from django.shortcuts import get_object_or_404
from rest_framework.exceptions import PermissionDenied, ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import User
from athletes.permissions import signed_in
from coachdesk.common.api.form_serializers import validated_data
from coachdesk.common.api.schema import operation_schema
from programming.movements.models import Movement
from programming.movements.schemas import MovementIn, MovementOut, RebuildIn
from programming.movements.services import (
    rebuild_movement,
    restore_movement,
    retire_movement,
    save_movement,
)
from programming.permissions import athletes_rebuilding, movements_kept_by, movements_visible_to


def coach_of(view: APIView) -> User:
    user = signed_in(view.request)
    if not user.is_coach:
        raise PermissionDenied("Coaches keep the club's movements.")
    return user


class MovementsView(APIView):
    """All that this person may see, in the usual order; POST adds one to the club."""

    @operation_schema("movements", gives=MovementOut(many=True), operation_id="movements_list")
    def get(self, request: Request) -> Response:
        rows = movements_visible_to(signed_in(request))
        return Response(MovementOut(rows, many=True).data)

    @operation_schema("movements", MovementIn, MovementOut, 201)
    def post(self, request: Request) -> Response:
        user = coach_of(self)
        movement = Movement(**validated_data(MovementIn, request.data))
        return Response(MovementOut(save_movement(movement=movement, by=user)).data, status=201)


class MovementView(APIView):
    """PATCH changes one of the club's own."""

    @operation_schema("movements", MovementIn, MovementOut)
    def patch(self, request: Request, pk: int) -> Response:
        user = coach_of(self)
        movement = get_object_or_404(movements_kept_by(user), pk=pk)
        for name, value in validated_data(MovementIn, request.data, partly=True).items():
            setattr(movement, name, value)
        return Response(MovementOut(save_movement(movement=movement, by=user)).data)


class RetireMovementView(APIView):
    """POST: it is offered no longer."""

    @operation_schema("movements", gives=MovementOut)
    def post(self, request: Request, pk: int) -> Response:
        movement = get_object_or_404(movements_kept_by(coach_of(self)), pk=pk)
        retire_movement(movement=movement)
        return Response(MovementOut(movement).data)


class RestoreMovementView(APIView):
    """POST: it is offered again."""

    @operation_schema("movements", gives=MovementOut)
    def post(self, request: Request, pk: int) -> Response:
        movement = get_object_or_404(movements_kept_by(coach_of(self)), pk=pk)
        restore_movement(movement=movement)
        return Response(MovementOut(movement).data)


class RebuildView(APIView):
    """POST: a new movement of one athlete's own in its place, whose max starts from what is
    lifted."""

    @operation_schema("movements", RebuildIn, MovementOut, 201)
    def post(self, request: Request, pk: int) -> Response:
        user = coach_of(self)
        offered = movements_visible_to(user).filter(retired_at=None)
        parent = get_object_or_404(offered, pk=pk)
        data = validated_data(RebuildIn, request.data)
        athlete = athletes_rebuilding(user, parent).filter(pk=data.pop("athlete")).first()
        if athlete is None:
            raise ValidationError({"athlete": ["Choose an athlete of the club who lifts it."]})
        movement = rebuild_movement(parent=parent, athlete=athlete, **data)
        return Response(MovementOut(movement).data, status=201)
