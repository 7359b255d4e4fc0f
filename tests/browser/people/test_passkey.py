"""Passkeys in Chromium with its virtual authenticator (W3C WebAuthn, "User Agent Automation")."""

from allauth.mfa.models import Authenticator
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage
from tests.conftest import Cast

PASSWORD = "a long passphrase"


def with_authenticator(page: Page, *, verifies: bool = True) -> str:
    """Give the page a phone that holds keys, and whose owner touches it at once; its id."""
    devtools = page.context.new_cdp_session(page)
    page.devtools = devtools  # type: ignore[attr-defined]  # kept alive with the page
    devtools.send("WebAuthn.enable")
    options = {
        "protocol": "ctap2",
        "transport": "internal",
        "hasResidentKey": True,
        "hasUserVerification": True,
        "isUserVerified": verifies,
        "automaticPresenceSimulation": True,
    }
    answer = devtools.send("WebAuthn.addVirtualAuthenticator", {"options": options})
    return answer["authenticatorId"]


def add_passkey(page: Page, *, alone: bool = True) -> None:
    page.goto("/accounts/2fa/webauthn/add/")
    page.get_by_label("What do you call this device?").fill("Training phone")
    page.get_by_label("Sign in with it alone").set_checked(alone)
    page.get_by_role("button", name="Add passkey").click()
    expect(page.get_by_text("The passkey is added.")).to_be_visible()


def sign_out(page: Page) -> None:
    page.goto("/me/")
    page.get_by_role("button", name="Sign out").click()
    expect(page.get_by_role("heading", name="Sign in")).to_be_visible()


def test_adds_a_passkey_and_signs_in_with_it_alone(cast: Cast, open_page: OpenPage) -> None:
    page = open_page(cast.athlete, width=390)
    with_authenticator(page)
    add_passkey(page)
    expect(page.get_by_label("Codes not used yet").get_by_role("listitem")).to_have_count(10)
    expect(page.get_by_text("Your recovery codes are ready.")).to_be_visible()
    expect(page.get_by_text("no longer work")).to_have_count(0)
    assert Authenticator.objects.filter(user=cast.athlete, type="webauthn").count() == 1
    sign_out(page)
    page.get_by_role("button", name="Sign in with a passkey").click()
    page.wait_for_url("**/today/")
    page.goto("/me/")
    expect(page.get_by_text("1 passkey")).to_be_visible()


def test_a_key_that_follows_the_password(cast: Cast, open_page: OpenPage) -> None:
    page = open_page(cast.athlete)
    with_authenticator(page)
    add_passkey(page, alone=False)
    sign_out(page)
    page.get_by_label("E-mail").fill(cast.athlete.email)
    page.get_by_label("Password").fill(PASSWORD)
    page.get_by_role("button", name="Sign in", exact=True).click()
    expect(page.get_by_role("heading", name="One more step")).to_be_visible()
    page.get_by_role("button", name="Use a passkey").click()
    page.wait_for_url("**/today/")


def test_renames_and_removes_a_passkey(cast: Cast, open_page: OpenPage) -> None:
    page = open_page(cast.athlete)
    with_authenticator(page)
    add_passkey(page)
    page.goto("/accounts/2fa/webauthn/")
    page.get_by_role("link", name="Rename Training phone").click()
    page.get_by_label("Name").fill("Old phone")
    page.get_by_role("button", name="Save name").click()
    page.get_by_role("link", name="Remove Old phone").click()
    page.get_by_role("button", name="Remove passkey").click()
    expect(page.get_by_text("No passkey yet.")).to_be_visible()
    # Recovery codes without a second factor to recover go with it.
    assert not Authenticator.objects.filter(user=cast.athlete).exists()


def test_asks_again_with_the_passkey(cast: Cast, open_page: OpenPage) -> None:
    page = open_page(cast.athlete)
    with_authenticator(page)
    add_passkey(page)
    page.goto("/accounts/2fa/webauthn/reauthenticate/?next=/accounts/2fa/recovery-codes/")
    page.get_by_role("button", name="Use a passkey").click()
    expect(page.get_by_role("heading", name="Recovery codes")).to_be_visible()


def test_says_what_went_wrong(cast: Cast, open_page: OpenPage) -> None:
    """A device that cannot tell who holds it offers no key that signs in alone."""
    page = open_page(cast.athlete, width=390)
    with_authenticator(page, verifies=False)
    page.goto("/accounts/2fa/webauthn/add/")
    page.get_by_label("Sign in with it alone").check()
    page.get_by_role("button", name="Add passkey").click()
    expect(page.get_by_role("alert")).to_contain_text("No passkey was used")
    assert not Authenticator.objects.filter(user=cast.athlete).exists()
