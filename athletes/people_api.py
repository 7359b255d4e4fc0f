"""REST of one person: what an owner says about somebody, and what everybody says of themselves."""

from typing import Any

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes import membership
from athletes.api import PersonOut
from athletes.forms import PlaceForm
from athletes.models import Role, User
from athletes.permissions import people_manageable_by, people_visible_to, signed_in
from coachdesk.common.api.form_serializers import (
    MAX_INT,
    as_form_data,
    cleaned_data,
    validated_data,
)
from coachdesk.common.api.schema import operation_schema


class PlaceIn(serializers.Serializer[Any]):
    """``main_coach``: of an athlete; null for nobody yet."""

    role = serializers.ChoiceField(Role.choices)
    main_coach = serializers.IntegerField(min_value=1, max_value=MAX_INT, allow_null=True)


class PersonView(APIView):
    """A person one may see. PATCH is the owner's: role, and main coach of an athlete; 409 when the
    club would be left without an owner."""

    @operation_schema("club", gives=PersonOut, operation_id="person_read")
    def get(self, request: Request, pk: int) -> Response:
        shown = get_object_or_404(people_visible_to(signed_in(request)), pk=pk)
        return Response(PersonOut(shown).data)

    @operation_schema("club", PlaceIn, PersonOut)
    def patch(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        shown = _managed(user, pk)
        sent = validated_data(PlaceIn, request.data, partly=True)
        as_it_is = {"role": shown.role, "main_coach": shown.main_coach_id}
        told = cleaned_data(PlaceForm(as_form_data({**as_it_is, **sent}), person=shown))
        changed = membership.change_place(by=user, person=shown, **told)
        return Response(PersonOut(changed).data)


class ClosingView(APIView):
    """Their sessions and tokens end now, and they cannot sign in; what they wrote stays."""

    @operation_schema("club", gives=PersonOut)
    def post(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        shown = _managed(user, pk)
        membership.deactivate(by=user, person=shown)
        shown.refresh_from_db()
        return Response(PersonOut(shown).data)


class BringingBackView(APIView):
    """They can sign in again."""

    @operation_schema("club", gives=PersonOut)
    def post(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        shown = _managed(user, pk)
        membership.bring_back(by=user, person=shown)
        shown.refresh_from_db()
        return Response(PersonOut(shown).data)


def _managed(user: User, pk: int) -> User:
    if not user.is_owner:
        raise PermissionDenied("This is the owner's.")
    return get_object_or_404(people_manageable_by(user), pk=pk)
