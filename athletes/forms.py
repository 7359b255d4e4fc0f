"""Forms about people. They check shape; permissions and use cases decide."""

from functools import cache
from typing import Any
from zoneinfo import available_timezones

from django import forms
from django.contrib.auth.password_validation import (
    password_validators_help_texts,
    validate_password,
)
from django.db.models import QuerySet

from athletes.models import Invitation, Role, Unit, User
from athletes.permissions import coaches_of, roles_invitable_by
from coachdesk.common.validators import validate_name

NOT_PLACES = ("Etc/", "SystemV/", "US/", "Brazil/", "Canada/", "Chile/", "Mexico/", "posix/")


@cache
def _timezone_names() -> frozenset[str]:
    """Those of the IANA database that name a place."""
    places = {
        name for name in available_timezones() if "/" in name and not name.startswith(NOT_PLACES)
    }
    return frozenset(places | {"UTC"})


@cache
def timezone_choices() -> list[tuple[str, str]]:
    """Sorted (value, label) pairs; the label reads like a place."""
    return [(name, name.replace("_", " ")) for name in sorted(_timezone_names())]


def _role_field(label: str, values: list[str]) -> forms.ChoiceField:
    """A single choice needs no asking, but it is still checked."""
    widget = forms.RadioSelect() if len(values) > 1 else forms.HiddenInput()
    choices = [(value, Role(value).label) for value in values]
    return forms.ChoiceField(label=label, choices=choices, widget=widget)


def _coach_field(coaches: QuerySet[User], help_text: str = "") -> forms.ModelChoiceField:
    return forms.ModelChoiceField(
        queryset=coaches,
        required=False,
        label="Main coach",
        empty_label="Nobody yet",
        help_text=help_text,
    )


class InviteForm(forms.Form):
    email = forms.EmailField(
        label="E-mail", widget=forms.EmailInput(attrs={"autocomplete": "off", "inputmode": "email"})
    )
    name = forms.CharField(
        max_length=120,
        required=False,
        label="Name",
        validators=[validate_name],
        help_text="They can change it.",
        widget=forms.TextInput(attrs={"autocomplete": "off"}),
    )

    def __init__(self, *args: Any, by: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        roles = roles_invitable_by(by)
        self.fields["role"] = _role_field("Joins as", roles)
        self.fields["coach"] = _coach_field(
            coaches_of(by.club), "For an athlete." if len(roles) > 1 else ""
        )
        self.initial = {"role": Role.ATHLETE, "coach": by.pk, **self.initial}


class RoleForm(forms.Form):
    """An owner's say about somebody: role, and the main coach of an athlete."""

    def __init__(self, *args: Any, person: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        coaches = coaches_of(person.club).exclude(pk=person.pk)
        self.fields["role"] = _role_field("Role", list(Role.values))
        self.fields["main_coach"] = _coach_field(
            coaches, "For an athlete. Any coach may still answer."
        )
        self.initial = {"role": person.role, "main_coach": person.main_coach_id}


class _ReaderFields(forms.Form):
    name = forms.CharField(
        max_length=120,
        label="Name",
        validators=[validate_name],
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    unit = forms.ChoiceField(label="Loads in", choices=Unit.choices, widget=forms.RadioSelect)
    timezone = forms.ChoiceField(
        label="Time zone",
        choices=timezone_choices,
        help_text="Your training days and times follow it.",
    )


class ProfileForm(_ReaderFields):
    letter_keys = forms.TypedChoiceField(
        label="Shortcuts of one letter",
        choices=[(True, "On"), (False, "Off")],
        coerce=lambda value: value == "True",
        widget=forms.RadioSelect,
        help_text="Off: arrows, Space, Enter and Ctrl Z still work.",
    )

    def __init__(self, *args: Any, person: User, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        if not person.is_coach:  # only the coach's pages have any
            del self.fields["letter_keys"]
        self.initial = {name: getattr(person, name) for name in self.fields}
        self.person = person

    def save(self) -> None:
        """What was found right becomes the person's."""
        for field, value in self.cleaned_data.items():
            setattr(self.person, field, value)
        self.person.save(update_fields=list(self.cleaned_data))


class JoinForm(_ReaderFields):
    password = forms.CharField(
        label="Password",
        strip=False,
        widget=forms.PasswordInput(attrs={"autocomplete": "new-password"}),
    )
    field_order = ["name", "password", "unit", "timezone"]

    def __init__(self, *args: Any, invitation: Invitation, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial = {
            "name": invitation.name,
            "unit": Unit.KG,
            "timezone": invitation.club.timezone,
        }
        self.invitation = invitation
        self.password_rules = password_validators_help_texts()
        if not self.is_bound:  # a choice already made is not guessed over
            self.fields["timezone"].widget.attrs["data-guess"] = ""

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if cleaned.get("password"):
            person = User(email=self.invitation.email, name=cleaned.get("name", ""))
            try:
                validate_password(cleaned["password"], person)
            except forms.ValidationError as error:
                self.add_error("password", error)
        return cleaned
