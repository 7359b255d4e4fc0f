"""REST of one person: what an owner says about somebody, and what everybody says of themselves."""

from typing import Any

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes import membership
from athletes.answers import Conflict
from athletes.api import PersonOut
from athletes.bodies import MOST, cleaned, form_data, sent_to
from athletes.documenting import takes
from athletes.forms import PlaceForm
from athletes.models import Role, User
from athletes.permissions import people_manageable_by, people_visible_to, signed_in


class PlaceIn(serializers.Serializer[Any]):
    """``main_coach``: of an athlete; null for nobody yet."""

    role = serializers.ChoiceField(Role.choices)
    main_coach = serializers.IntegerField(min_value=1, max_value=MOST, allow_null=True)


class PersonView(APIView):
    """A person one may see. PATCH is the owner's: role, and main coach of an athlete; 409 when the
    club would be left without an owner."""

    @takes("club", gives=PersonOut, operation_id="person_read")
    def get(self, request: Request, pk: int) -> Response:
        shown = get_object_or_404(people_visible_to(signed_in(request)), pk=pk)
        return Response(PersonOut(shown).data)

    @takes("club", PlaceIn, PersonOut)
    def patch(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        shown = _managed(user, pk)
        sent = sent_to(PlaceIn, request.data, partly=True)
        as_it_is = {"role": shown.role, "main_coach": shown.main_coach_id}
        told = cleaned(PlaceForm(form_data({**as_it_is, **sent}), person=shown))
        try:
            changed = membership.change_place(by=user, person=shown, **told)
        except membership.LastOwner as why:
            raise Conflict(membership.NO_OWNER) from why
        return Response(PersonOut(changed).data)


class ClosingView(APIView):
    """Their sessions and tokens end now, and they cannot sign in; what they wrote stays."""

    @takes("club", gives=PersonOut)
    def post(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        shown = _managed(user, pk)
        try:
            membership.deactivate(by=user, person=shown)
        except membership.LastOwner as why:
            raise Conflict(membership.NO_OWNER) from why
        shown.refresh_from_db()
        return Response(PersonOut(shown).data)


class BringingBackView(APIView):
    """They can sign in again."""

    @takes("club", gives=PersonOut)
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
