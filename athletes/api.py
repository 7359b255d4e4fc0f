"""REST of people: who I am, who is here, who is invited."""

from typing import Any

from django.shortcuts import get_object_or_404
from rest_framework.exceptions import PermissionDenied
from rest_framework.permissions import SAFE_METHODS
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.forms import ProfileForm, RoleForm
from athletes.models import User
from athletes.permissions import (
    invitations_visible_to,
    people_manageable_by,
    people_visible_to,
    signed_in,
)
from athletes.schemas import (
    InvitationIn,
    InvitationMade,
    InvitationOut,
    MeIn,
    MeOut,
    PersonOut,
    RoleIn,
)
from athletes.services import membership
from athletes.services.invitations import invite, join_link, send_invitation, withdraw
from athletes.tokens.models import Area
from coachdesk.common.api.form_serializers import as_form_data, cleaned_data, validated_data
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema


class CoachesOnly(APIView):
    """Athletes get 403 before anything is looked at."""

    def initial(self, request: Request, *args: Any, **kwargs: Any) -> None:
        super().initial(request, *args, **kwargs)
        if not signed_in(request).is_coach:
            raise PermissionDenied("This is the coaches' tool.")


class MeView(APIView):
    """Who asks, and what this token may do: every token may know. PATCH changes one's own page."""

    @property
    def area(self) -> Area | None:
        return None if self.request.method in SAFE_METHODS else Area.CLUB

    @operation_schema("club", gives=MeOut)
    def get(self, request: Request) -> Response:
        return Response(MeOut(signed_in(request), context={"token": request.auth}).data)

    @operation_schema("club", MeIn, MeOut)
    def patch(self, request: Request) -> Response:
        user = signed_in(request)
        sent = validated_data(MeIn, request.data, partly=True)
        fields = ("name", "unit", "timezone", "letter_keys")
        told = {name: str(sent.get(name, getattr(user, name))) for name in fields}
        form = ProfileForm(as_form_data(told), person=user)
        cleaned_data(form)
        form.save()
        return Response(MeOut(user, context={"token": request.auth}).data)


class PeopleView(APIView):
    """Who this person may see: a coach the club, an athlete themselves."""

    @list_schema("club", PersonOut, operation_id="people_list")
    def get(self, request: Request) -> Response:
        people = people_visible_to(signed_in(request))
        return paginated_response(people, PersonOut, request=request, view=self, by="joined_at")


class InvitationsView(CoachesOnly):
    """Invitations of the club (a coach's own), and a new one, which is mailed."""

    secret_fields = ("link",)

    @list_schema("club", InvitationOut, operation_id="invitations_list")
    def get(self, request: Request) -> Response:
        rows = invitations_visible_to(signed_in(request))
        return paginated_response(rows, InvitationOut, request=request, view=self, by="-invited_at")

    @operation_schema("club", InvitationIn, InvitationMade, 201)
    def post(self, request: Request) -> Response:
        sent = InvitationIn(data=request.data, context={"request": request})
        sent.is_valid(raise_exception=True)
        invitation, token = invite(by=signed_in(request), **sent.validated_data)
        link = join_link(token)
        mailed = send_invitation(invitation, link)
        told = InvitationOut(invitation).data
        return Response({**told, "link": None if mailed else link}, status=201)


class InvitationView(CoachesOnly):
    """DELETE withdraws it; one that was used or withdrawn stays as it is."""

    @operation_schema("club", status=204)
    def delete(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        invitation = get_object_or_404(invitations_visible_to(user), pk=pk)
        withdraw(by=user, invitation=invitation.pk)
        return Response(status=204)


class PersonView(APIView):
    """A person one may see. PATCH is the owner's: role, and main coach of an athlete; 409 when the
    club would be left without an owner."""

    @operation_schema("club", gives=PersonOut, operation_id="person_read")
    def get(self, request: Request, pk: int) -> Response:
        shown = get_object_or_404(people_visible_to(signed_in(request)), pk=pk)
        return Response(PersonOut(shown).data)

    @operation_schema("club", RoleIn, PersonOut)
    def patch(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        shown = _managed(user, pk)
        sent = validated_data(RoleIn, request.data, partly=True)
        as_it_is = {"role": shown.role, "main_coach": shown.main_coach_id}
        told = cleaned_data(RoleForm(as_form_data({**as_it_is, **sent}), person=shown))
        changed = membership.assign_role(by=user, person=shown, **told)
        return Response(PersonOut(changed).data)


class DeactivateView(APIView):
    """Their sessions and tokens end now, and they cannot sign in; what they wrote stays."""

    @operation_schema("club", gives=PersonOut)
    def post(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        shown = _managed(user, pk)
        membership.deactivate(by=user, person=shown)
        shown.refresh_from_db()
        return Response(PersonOut(shown).data)


class ReactivateView(APIView):
    """They can sign in again."""

    @operation_schema("club", gives=PersonOut)
    def post(self, request: Request, pk: int) -> Response:
        user = signed_in(request)
        shown = _managed(user, pk)
        membership.reactivate(by=user, person=shown)
        shown.refresh_from_db()
        return Response(PersonOut(shown).data)


def _managed(user: User, pk: int) -> User:
    if not user.is_owner:
        raise PermissionDenied("This is the owner's.")
    return get_object_or_404(people_manageable_by(user), pk=pk)
