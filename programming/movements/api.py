"""REST of movements: the shipped ones, the club's, and variants of one's own."""

from typing import Any

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.bodies import MOST, body_of, cleaned, form_data, sent_to
from athletes.documenting import takes
from athletes.models import User
from athletes.names import validate_name
from athletes.permissions import signed_in
from programming.api import UseCaseView
from programming.movements.forms import MovementForm, RebuildForm
from programming.movements.keeping import bring_back, keep, rebuild, retire
from programming.movements.models import Movement
from programming.permissions import athletes_rebuilding, movements_kept_by, movements_visible_to

MovementIn = body_of("MovementIn", MovementForm)


class RebuildIn(serializers.Serializer[Any]):
    """``tempo``: empty for that of the movement that is rebuilt."""

    athlete = serializers.IntegerField(min_value=1, max_value=MOST)
    name = serializers.CharField(max_length=80, validators=[validate_name])
    tempo = serializers.CharField(max_length=40, allow_blank=True, default="")


class MovementOut(serializers.ModelSerializer[Movement]):
    class Meta:
        model = Movement
        fields = [
            *("id", "club", "athlete", "parent", "family", "name", "bar_position", "stance"),
            *("grip", "equipment", "tempo", "retired_at"),
        ]


def coach_of(view: UseCaseView) -> User:
    user = signed_in(view.request)
    if not user.is_coach:
        raise PermissionDenied("Coaches keep the club's movements.")
    return user


class MovementsView(UseCaseView):
    """All that this person may see, in the usual order; POST adds one to the club."""

    @takes("movements", gives=MovementOut(many=True), operation_id="movements_list")
    def get(self, request: Request) -> Response:
        rows = movements_visible_to(signed_in(request))
        return Response(MovementOut(rows, many=True).data)

    @takes("movements", MovementIn, MovementOut, 201)
    def post(self, request: Request) -> Response:
        user = coach_of(self)
        form = MovementForm(form_data(sent_to(MovementIn, request.data)))
        cleaned(form)
        made = keep(movement=form.save(commit=False), by=user)
        return Response(MovementOut(made).data, status=201)


class MovementView(UseCaseView):
    """PATCH changes one of the club's own."""

    @takes("movements", MovementIn, MovementOut)
    def patch(self, request: Request, pk: int) -> Response:
        user = coach_of(self)
        movement = get_object_or_404(movements_kept_by(user), pk=pk)
        sent = sent_to(MovementIn, request.data, partly=True)
        now: dict[str, Any] = {name: getattr(movement, name) for name in MovementForm.Meta.fields}
        form = MovementForm(form_data({**now, **sent}), instance=movement)
        cleaned(form)
        return Response(MovementOut(keep(movement=form.save(commit=False), by=user)).data)


class RetireMovementView(UseCaseView):
    """POST: it is offered no longer."""

    @takes("movements", gives=MovementOut)
    def post(self, request: Request, pk: int) -> Response:
        movement = get_object_or_404(movements_kept_by(coach_of(self)), pk=pk)
        retire(movement=movement)
        return Response(MovementOut(movement).data)


class BringBackMovementView(UseCaseView):
    """POST: it is offered again."""

    @takes("movements", gives=MovementOut)
    def post(self, request: Request, pk: int) -> Response:
        movement = get_object_or_404(movements_kept_by(coach_of(self)), pk=pk)
        bring_back(movement=movement)
        return Response(MovementOut(movement).data)


class RebuildView(UseCaseView):
    """POST: a new movement of one athlete's own in its place, whose max starts from what is
    lifted."""

    @takes("movements", RebuildIn, MovementOut, 201)
    def post(self, request: Request, pk: int) -> Response:
        user = coach_of(self)
        offered = movements_visible_to(user).filter(retired_at=None)
        parent = get_object_or_404(offered, pk=pk)
        sent = form_data(sent_to(RebuildIn, request.data))
        told = cleaned(RebuildForm(sent, athletes=athletes_rebuilding(user, parent)))
        return Response(MovementOut(rebuild(parent=parent, **told)).data, status=201)
