"""allauth's pages, the front page and the watchers' addresses.

The sessions of this table have just typed their password. Without that, what changes the ways to
sign in asks again: tests/athletes/test_second_factor.py.
"""

from tests.access.expecting import LOGIN, Row, everyone, mine, signed_in
from tests.access.world import World


def passkey(world: World) -> dict[str, object]:
    return {"pk": world.passkey.pk}


# In both worlds the athlete has a passkey; nobody has codes from an app.
ROWS = [
    Row("home", signed_in(302)),
    Row("health-live", everyone(200)),
    Row("health-ready", everyone(200)),
    Row("account_login", {**signed_in(302), "anonymous": 200}),
    Row("account_logout", {**signed_in(200), "anonymous": 302}),
    Row("account_logout", everyone(302), "POST"),
    Row("account_inactive", everyone(200)),
    Row("account_signup", {**signed_in(302), "anonymous": 200}),
    Row("account_signup", {**signed_in(302), "anonymous": 200}, "POST"),
    Row("account_reauthenticate", signed_in(200)),
    Row("account_email", signed_in(200)),
    Row("account_email_verification_sent", everyone(200)),
    Row("account_confirm_email", everyone(200), args=lambda world: {"key": "guessed"}),
    Row("account_change_password", signed_in(200)),
    Row("account_set_password", signed_in(302)),
    Row("account_reset_password", everyone(200)),
    Row("account_reset_password_done", everyone(200)),
    Row("account_reset_password_from_key", everyone(200),
        args=lambda world: {"uidb36": "1", "key": "guessed"}),
    Row("account_reset_password_from_key_done", everyone(200)),
    Row("account_confirm_login_code", {**everyone(302), "anonymous": LOGIN}),
    Row("mfa_index", signed_in(200)),
    Row("mfa_authenticate", {**everyone(302), "anonymous": LOGIN}),
    Row("mfa_reauthenticate", signed_in(302)),
    Row("mfa_activate_totp", signed_in(200)),
    Row("mfa_deactivate_totp", signed_in(404)),
    Row("mfa_view_recovery_codes", signed_in(404)),
    Row("mfa_generate_recovery_codes", signed_in(200)),
    Row("mfa_download_recovery_codes", signed_in(404)),
    Row("mfa_list_webauthn", signed_in(200)),
    Row("mfa_add_webauthn", signed_in(200)),
    Row("mfa_reauthenticate_webauthn", {**signed_in(302), "athlete": 200, "outsider": 200}),
    Row("mfa_remove_webauthn", mine(200), args=passkey),
    Row("mfa_remove_webauthn", mine(302), "POST", args=passkey),
    Row("mfa_edit_webauthn", mine(200), args=passkey),
    Row("mfa_edit_webauthn", mine(302), "POST", args=passkey,
        data=lambda world: {"name": "Theirs"}),
    Row("mfa_login_webauthn", {**everyone(302), "anonymous": LOGIN}),
    Row("usersessions_list", signed_in(200)),
    Row("usersessions_list", signed_in(302), "POST"),
]  # fmt: skip
