"""REST of people: who I am, who is here, who is invited."""

from typing import Any

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.exceptions import PermissionDenied
from rest_framework.permissions import SAFE_METHODS
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.forms import ProfileForm
from athletes.inviting import invite, withdraw
from athletes.links import join_link
from athletes.mail.invitation import send_invitation
from athletes.models import Invitation, Role, Unit, User
from athletes.permissions import (
    coaches_of,
    invitations_visible_to,
    people_visible_to,
    signed_in,
)
from athletes.tokens.models import ApiToken, Area
from coachdesk.common.api.form_serializers import as_form_data, cleaned_data, validated_data
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from coachdesk.common.validators import validate_name


class MeOut(serializers.ModelSerializer[User]):
    club = serializers.CharField(source="club.name")
    scopes = serializers.SerializerMethodField()

    class Meta:
        model = User
        fields = [
            *("id", "name", "email", "role", "club", "unit", "timezone", "letter_keys"),
            *("main_coach", "scopes"),
        ]

    def get_scopes(self, user: User) -> list[str] | None:
        """What the token in use may do; null when no token is used."""
        token = self.context["token"]
        return token.scopes if isinstance(token, ApiToken) else None


class MeIn(serializers.Serializer[Any]):
    """``timezone`` as in the IANA database; ``letter_keys`` only means something to a coach."""

    name = serializers.CharField(max_length=120, validators=[validate_name])
    unit = serializers.ChoiceField(Unit.choices)
    timezone = serializers.CharField(max_length=64)
    letter_keys = serializers.BooleanField()


class PersonOut(serializers.ModelSerializer[User]):
    class Meta:
        model = User
        fields = ["id", "name", "email", "role", "main_coach", "is_active"]


class InvitationOut(serializers.ModelSerializer[Invitation]):
    state = serializers.ChoiceField(["open", "accepted", "withdrawn", "expired"])

    class Meta:
        model = Invitation
        fields = ["id", "email", "name", "role", "coach", "state", "invited_at", "expires_at"]


class InvitationMade(InvitationOut):
    """``link`` only when the mail did not leave this machine: hand it over yourself."""

    link = serializers.CharField(allow_null=True)

    class Meta(InvitationOut.Meta):
        fields = [*InvitationOut.Meta.fields, "link"]


class InvitationIn(serializers.Serializer[Any]):
    email = serializers.EmailField(max_length=254)
    name = serializers.CharField(
        max_length=120, allow_blank=True, default="", validators=[validate_name]
    )
    role = serializers.ChoiceField(Role.choices, default=Role.ATHLETE)
    coach = serializers.PrimaryKeyRelatedField(
        queryset=User.objects.all(), allow_null=True, default=None
    )

    def validate_coach(self, coach: User | None) -> User | None:
        here = coaches_of(signed_in(self.context["request"]).club)
        if coach is not None and not here.filter(pk=coach.pk).exists():
            raise serializers.ValidationError("Choose a coach of this club.")
        return coach


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
