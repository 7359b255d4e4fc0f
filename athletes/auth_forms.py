"""allauth's forms, where ours begin differently."""

from typing import Any

from allauth.account.adapter import get_adapter
from allauth.account.forms import ResetPasswordForm
from allauth.mfa.webauthn.forms import AddWebAuthnForm
from django.http import HttpRequest

from athletes.mail.services import enqueue_password_reset


class ForgottenPasswordForm(ResetPasswordForm):
    """Looks nobody up, so that an unknown address answers like a known one, and as fast."""

    def clean_email(self) -> str:
        return str(get_adapter().clean_email(self.cleaned_data["email"].lower()))

    def save(self, request: HttpRequest, **kwargs: Any) -> str:
        email = str(self.cleaned_data["email"])
        enqueue_password_reset(email)
        return email


class AddPasskeyForm(AddWebAuthnForm):
    """A passkey signs in alone unless somebody says otherwise: that is what it is for."""

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial["passwordless"] = True
