"""allauth's door: closed to anybody who was not invited, and speaking our voice."""

from typing import Any, ClassVar
from urllib.parse import urlsplit

from allauth.account.adapter import DefaultAccountAdapter
from allauth.core.exceptions import ImmediateHttpResponse
from allauth.core.internal import ratelimit
from allauth.mfa.adapter import DefaultMFAAdapter
from allauth.mfa.models import Authenticator
from django.conf import settings
from django.contrib.auth.base_user import AbstractBaseUser
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from athletes.known_device import known_device, remember_device
from athletes.mail.services import enqueue_text
from athletes.models import User
from coachdesk.common.public_url import absolute_url

# Failed attempts. allauth counts those of an account by ACCOUNT_RATE_LIMITS, under the key below;
# these hold only where nobody is known.
UNKNOWN_DEVICES = {
    "failed_by_address": "10/m/ip",  # one machine that tries many accounts
    "failed_by_account": "50/h/key",  # many machines that try one account
}


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

    def add_message(
        self,
        request: HttpRequest,
        level: int,
        message_template: str | None = None,
        message_context: dict[str, Any] | None = None,
        **more: Any,
    ) -> None:
        """allauth says of the first recovery codes what it says of new ones; only the page that
        makes new ones takes any away."""
        at = request.resolver_match
        renewed = at is not None and at.url_name == "mfa_generate_recovery_codes"
        context = {**(message_context or {}), "renewed": renewed}
        super().add_message(request, level, message_template, context, **more)

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def _get_login_attempts_cache_key(self, request: HttpRequest, **credentials: Any) -> str:
        """Whose attempts are counted together: those of one device of the person, or of one
        address of the network. Counted by account alone, anybody could lock anybody out."""
        email = credentials.get("email", "")
        source = known_device(request, email) or self.get_client_ip(request)
        return f"{super()._get_login_attempts_cache_key(request, **credentials)}:{source}"

    def pre_authenticate(self, request: HttpRequest, **credentials: Any) -> None:
        super().pre_authenticate(request, **credentials)
        email = credentials.get("email", "").lower()
        if known_device(request, email):
            return
        for action in UNKNOWN_DEVICES:
            usage = ratelimit.consume(
                request, app="athletes", action=action, config=UNKNOWN_DEVICES, key=email
            )
            if usage is None:
                raise ImmediateHttpResponse(ratelimit.respond_429(request))
            self._login_failed_rl_usage.usage.extend(usage.usage)

    def post_login(
        self, request: HttpRequest, user: AbstractBaseUser, **kwargs: Any
    ) -> HttpResponse:
        response = super().post_login(request, user, **kwargs)
        assert isinstance(user, User)
        remember_device(request, response, user)
        return response

    def send_mail(self, template_prefix: str, email: str, context: dict[str, Any]) -> None:
        """Every mail of allauth's goes through the outbox, like ours."""
        site = {"domain": urlsplit(settings.PUBLIC_URL).netloc}
        mail = self.render_mail(template_prefix, email, {**context, "current_site": site})
        enqueue_text(to=email, subject=mail.subject, body=str(mail.body))

    def get_reset_password_from_key_url(self, key: str) -> str:
        """Written by a worker, who has no request to take the site's address from."""
        uid, _, token = key.partition("-")
        return absolute_url("account_reset_password_from_key", uidb36=uid, key=token)

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
