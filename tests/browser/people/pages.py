"""The door and the people pages, in the states a person meets."""

from datetime import timedelta

from allauth.account.models import EmailAddress
from allauth.mfa.recovery_codes.internal.auth import RecoveryCodes
from allauth.mfa.totp.internal.auth import TOTP, generate_totp_secret
from django.urls import reverse
from django.utils.timezone import now

from athletes.mail.models import Mail
from athletes.mail.services import enqueue_text
from athletes.models import Invitation, PainReport, Role
from athletes.services.invitations import invite, withdraw
from athletes.tokens.services import issue_token, revoke_token
from athletes.webhooks.models import Event, Webhook
from reviews.intake import jobs
from reviews.intake.models import ClipState
from reviews.media.refusals import SENTENCES
from tests.athletes.passkeys import a_passkey
from tests.browser.pages import Look
from tests.conftest import Cast
from tests.reviews.replies.rows import a_clip, a_submission

LONG = "Maximiliane Oyelaran-Szczepaniak von Hohenfelden"


def at(name: str, **kwargs: object):
    return lambda cast: reverse(name, kwargs=kwargs)


def busy_club(cast: Cast) -> str:
    invite(by=cast.owner, email="new@example.org", role=Role.ATHLETE, coach=cast.coach)
    late, _ = invite(by=cast.owner, email="late@example.org", role=Role.COACH, name=LONG)
    Invitation.objects.filter(pk=late.pk).update(expires_at=now() - timedelta(days=1))
    type(cast.athlete).objects.filter(pk=cast.other_athlete.pk).update(name=LONG)
    type(cast.athlete).objects.filter(pk=cast.second_coach.pk).update(is_active=False)
    return reverse("people")


def troubled_server(cast: Cast) -> str:
    """A clip waits for the disk, another failed, and the mail server is away."""
    submission = a_submission(cast.athlete)
    waiting, _ = (
        a_clip(
            submission,
            state=state,
            reason=reason,
            original="originals/lift.mp4",
            filename=name,
            size=241_172_480,
        )
        for state, reason, name in (
            (ClipState.PROCESSING, "", "VID_20261128_183012_squat_top_set_heavy_single.mp4"),
            (ClipState.FAILED, SENTENCES["damaged"], "IMG_2041.MOV"),
        )
    )
    jobs.hold_off(jobs.enqueue(waiting).pk, part="disk", error="full")
    mail = enqueue_text(to="nil@example.org", subject="Join", body="A link.")
    Mail.objects.filter(pk=mail.pk).update(problem="TimeoutError")
    return reverse("server")


def hurting_athlete(cast: Cast) -> str:
    PainReport.objects.create(
        athlete=cast.athlete, where="lower back", score=4, since="Monday", signs=["spreading"]
    )
    return reverse("person", kwargs={"pk": cast.athlete.pk})


def invitation_link(cast: Cast) -> str:
    _, token = invite(by=cast.coach, email="new@example.org", role=Role.ATHLETE, coach=cast.coach)
    return reverse("join", args=[token])


def withdrawn_link(cast: Cast) -> str:
    invitation, token = invite(by=cast.owner, email="new@example.org", role=Role.ATHLETE)
    withdraw(by=cast.owner, invitation=invitation.pk)
    return reverse("join", args=[token])


def second_factor(cast: Cast) -> None:
    TOTP.activate(cast.athlete, generate_totp_secret())
    RecoveryCodes.activate(cast.athlete)


def with_second_factor(name: str):
    def build(cast: Cast) -> str:
        second_factor(cast)
        return reverse(name)

    return build


def with_passkey(name: str, *, own_key: bool = False):
    def build(cast: Cast) -> str:
        key = a_passkey(cast.athlete, "Mira's phone")
        return reverse(name, kwargs={"pk": key.pk} if own_key else None)

    return build


def changing_address(cast: Cast) -> str:
    user = cast.athlete
    EmailAddress.objects.create(user=user, email="next@example.org", verified=False)
    return reverse("account_email")


def two_tokens(cast: Cast) -> str:
    """One in use, one that was ended; the page is the same after the answer that shows a secret."""
    issue_token(user=cast.athlete, name=LONG, scopes=["log:read", "submissions:write"], days=30)
    old, _ = issue_token(user=cast.athlete, name="Old notebook", scopes=["log:read"], days=7)
    revoke_token(user=cast.athlete, token_id=old.pk)
    return reverse("tokens")


def told_hook(name: str):
    """A long address with a delivery that was taken, one that waits and one that was given up."""

    def build(cast: Cast) -> str:
        url = "https://hooks.example.org/a/rather/long/path/that/goes/on?key=000000000000000000000"
        hook = Webhook.objects.create(
            club=cast.owner.club, url=url, events=list(Event.values), secret="s"
        )
        rows = hook.deliveries
        rows.create(event=Event.REPLY_PUBLISHED, payload={}, attempts=1, taken_at=now(), status=204)
        rows.create(event=Event.SUBMISSION_SENT, payload={}, attempts=2, status=500)
        rows.create(
            event=Event.CORRECTION_APPLIED,
            payload={},
            attempts=7,
            due_at=None,
            problem="Late.",
        )
        return reverse(name, kwargs={"pk": hook.pk} if name == "webhook" else None)

    return build


PAGES = [
    Look("account_login", None, at("account_login")),
    Look("account_signup", None, at("account_signup")),
    Look("account_inactive", None, at("account_inactive")),
    Look("account_reset_password", None, at("account_reset_password")),
    Look("account_reset_password_done", None, at("account_reset_password_done")),
    Look(
        "account_reset_password_from_key",
        None,
        at("account_reset_password_from_key", uidb36="1", key="used-up"),
    ),
    Look("account_reset_password_from_key_done", None, at("account_reset_password_from_key_done")),
    Look("account_email_verification_sent", None, at("account_email_verification_sent")),
    Look("account_confirm_email", None, at("account_confirm_email", key="used-up")),
    Look("join", None, invitation_link),
    Look("join", None, withdrawn_link, "withdrawn", 410),
    Look("join", None, at("join", token="not-a-token"), "unknown", 404),
    Look("join", "athlete", invitation_link, "signed-in"),
    Look("account_logout", "athlete", at("account_logout")),
    Look("account_change_password", "athlete", at("account_change_password")),
    Look("account_email", "athlete", changing_address),
    Look("account_reauthenticate", "athlete", at("account_reauthenticate")),
    Look("mfa_index", "athlete", at("mfa_index")),
    Look("mfa_index", "athlete", with_second_factor("mfa_index"), "on"),
    Look("mfa_reauthenticate", "athlete", with_second_factor("mfa_reauthenticate")),
    Look("mfa_activate_totp", "athlete", at("mfa_activate_totp")),
    Look("mfa_deactivate_totp", "athlete", with_second_factor("mfa_deactivate_totp")),
    Look("mfa_view_recovery_codes", "athlete", with_second_factor("mfa_view_recovery_codes")),
    Look(
        "mfa_generate_recovery_codes", "athlete", with_second_factor("mfa_generate_recovery_codes")
    ),
    Look("mfa_list_webauthn", "athlete", at("mfa_list_webauthn"), "empty"),
    Look("mfa_list_webauthn", "athlete", with_passkey("mfa_list_webauthn")),
    Look("mfa_reauthenticate_webauthn", "athlete", with_passkey("mfa_reauthenticate_webauthn")),
    Look("mfa_add_webauthn", "athlete", at("mfa_add_webauthn")),
    Look("mfa_edit_webauthn", "athlete", with_passkey("mfa_edit_webauthn", own_key=True)),
    Look("mfa_remove_webauthn", "athlete", with_passkey("mfa_remove_webauthn", own_key=True)),
    Look("usersessions_list", "athlete", at("usersessions_list")),
    Look("profile", "athlete", at("profile")),
    Look("tokens", "athlete", two_tokens),
    Look("tokens", "coach", at("tokens"), "empty"),
    Look("server", "owner", troubled_server),
    Look("server", "owner", at("server"), "empty"),
    Look("webhooks", "owner", told_hook("webhooks")),
    Look("webhooks", "owner", at("webhooks"), "empty"),
    Look("webhook", "owner", told_hook("webhook")),
    Look("api-docs", "coach", at("api-docs")),
    Look("profile", "coach", at("profile")),
    Look("people", "owner", busy_club),
    Look("people", "coach", at("people")),
    Look("person", "owner", hurting_athlete),
    Look("person", "coach", hurting_athlete),
]
PAGES += [
    Look("person", "coach", lambda cast: "/people/999999/", "foreign", 404),
    Look("people", "athlete", at("people"), "forbidden", 403),
]
