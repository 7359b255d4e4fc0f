"""People and invitations as the API takes and answers them."""

from typing import Any

from rest_framework import serializers

from athletes.models import Invitation, Role, Unit, User
from athletes.permissions import coaches_of, signed_in
from athletes.tokens.models import ApiToken
from coachdesk.common.api.form_serializers import MAX_INT
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


class RoleIn(serializers.Serializer[Any]):
    """``main_coach``: of an athlete; null for nobody yet."""

    role = serializers.ChoiceField(Role.choices)
    main_coach = serializers.IntegerField(min_value=1, max_value=MAX_INT, allow_null=True)
