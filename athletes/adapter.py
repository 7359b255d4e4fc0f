"""allauth's door: closed to anybody who was not invited, and speaking our voice."""

from typing import ClassVar

from allauth.account.adapter import DefaultAccountAdapter
from allauth.mfa.adapter import DefaultMFAAdapter
from allauth.mfa.models import Authenticator
from django.contrib.auth.base_user import AbstractBaseUser
from django.http import HttpRequest
from django.urls import reverse


class ByInvitationAdapter(DefaultAccountAdapter):
    error_messages: ClassVar[dict[str, str]] = {
        **DefaultAccountAdapter.error_messages,
        "account_inactive": "This account is closed. Ask an owner of your club.",
        "email_password_mismatch": "This e-mail and password do not fit together. "
        "Check both, or reset the password below.",
        "enter_current_password": "That is not your current password.",
        "incorrect_password": "That is not your password.",
        "incorrect_code": "That code is not right, or its time is over. Use the newest one.",
        "too_many_login_attempts": "Too many tries. Your account is safe. "
        "Wait five minutes, then try again or reset the password.",
        "rate_limited": "Too many tries. Wait a few minutes, then try again.",
        "email_taken": "Another account uses this address.",
        "same_as_current": "This is the address you have now.",
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def get_password_change_redirect_url(self, request: HttpRequest) -> str:
        return reverse("profile")


class SecondFactorAdapter(DefaultMFAAdapter):
    error_messages: ClassVar[dict[str, str]] = {
        **DefaultMFAAdapter.error_messages,
        "incorrect_code": "That code is not right, or its time is over. Use the newest one.",
    }

    def generate_authenticator_name(self, user: AbstractBaseUser, type: Authenticator.Type) -> str:
        held = Authenticator.objects.filter(user_id=user.pk, type=type).count()
        return f"Passkey {held + 1}"

    def get_public_key_credential_rp_entity(self) -> dict[str, str]:
        """What a phone shows beside a passkey: the house, not the host name."""
        return {**super().get_public_key_credential_rp_entity(), "name": "Coachdesk"}
