"""REST of movements: the shipped ones, the club's, and variants of one's own."""

from typing import Any

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
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
from coachdesk.common.api.schema import operation_schema
from coachdesk.common.validators import validate_name
from programming.movements.forms import MovementForm, RebuildForm
from programming.movements.keeping import bring_back, keep, rebuild, retire
from programming.movements.models import Movement
from programming.permissions import athletes_rebuilding, movements_kept_by, movements_visible_to

MovementIn = form_serializer("MovementIn", MovementForm)


class RebuildIn(serializers.Serializer[Any]):
    """``tempo``: empty for that of the movement that is rebuilt."""

    athlete = serializers.IntegerField(min_value=1, max_value=MAX_INT)
    name = serializers.CharField(max_length=80, validators=[validate_name])
    tempo = serializers.CharField(max_length=40, allow_blank=True, default="")


class MovementOut(serializers.ModelSerializer[Movement]):
    class Meta:
        model = Movement
        fields = [
            *("id", "club", "athlete", "parent", "family", "name", "bar_position", "stance"),
            *("grip", "equipment", "tempo", "retired_at"),
        ]


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
        form = MovementForm(as_form_data(validated_data(MovementIn, request.data)))
        cleaned_data(form)
        made = keep(movement=form.save(commit=False), by=user)
        return Response(MovementOut(made).data, status=201)


class MovementView(APIView):
    """PATCH changes one of the club's own."""

    @operation_schema("movements", MovementIn, MovementOut)
    def patch(self, request: Request, pk: int) -> Response:
        user = coach_of(self)
        movement = get_object_or_404(movements_kept_by(user), pk=pk)
        sent = validated_data(MovementIn, request.data, partly=True)
        now: dict[str, Any] = {name: getattr(movement, name) for name in MovementForm.Meta.fields}
        form = MovementForm(as_form_data({**now, **sent}), instance=movement)
        cleaned_data(form)
        return Response(MovementOut(keep(movement=form.save(commit=False), by=user)).data)


class RetireMovementView(APIView):
    """POST: it is offered no longer."""

    @operation_schema("movements", gives=MovementOut)
    def post(self, request: Request, pk: int) -> Response:
        movement = get_object_or_404(movements_kept_by(coach_of(self)), pk=pk)
        retire(movement=movement)
        return Response(MovementOut(movement).data)


class BringBackMovementView(APIView):
    """POST: it is offered again."""

    @operation_schema("movements", gives=MovementOut)
    def post(self, request: Request, pk: int) -> Response:
        movement = get_object_or_404(movements_kept_by(coach_of(self)), pk=pk)
        bring_back(movement=movement)
        return Response(MovementOut(movement).data)


class RebuildView(APIView):
    """POST: a new movement of one athlete's own in its place, whose max starts from what is
    lifted."""

    @operation_schema("movements", RebuildIn, MovementOut, 201)
    def post(self, request: Request, pk: int) -> Response:
        user = coach_of(self)
        offered = movements_visible_to(user).filter(retired_at=None)
        parent = get_object_or_404(offered, pk=pk)
        sent = as_form_data(validated_data(RebuildIn, request.data))
        told = cleaned_data(RebuildForm(sent, athletes=athletes_rebuilding(user, parent)))
        return Response(MovementOut(rebuild(parent=parent, **told)).data, status=201)
