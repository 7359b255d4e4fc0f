"""Joining on a phone: from the link in the mail to the first page."""

from playwright.sync_api import expect

from athletes.models import Role, User
from athletes.services import invitations
from tests.browser.conftest import OpenPage, shot
from tests.conftest import Cast


def link(cast: Cast) -> str:
    _, token = invitations.invite(
        by=cast.coach, email="nil@example.org", role=Role.ATHLETE, coach=cast.coach
    )
    return f"/join/{token}/"


def test_joins_on_a_phone_in_its_own_time_zone(cast: Cast, open_page: OpenPage) -> None:
    page = open_page(width=390, timezone_id="America/Lima")
    page.goto(link(cast))
    expect(page.get_by_label("Time zone")).to_have_value("America/Lima")
    page.get_by_label("Your name").fill("Nil Arendt")
    page.get_by_label("Choose a password").fill("chalk and iron")
    page.get_by_label("pounds").check()
    page.get_by_role("button", name="Join").click()
    page.wait_for_url("**/today/")
    expect(page.get_by_text("Welcome, Nil.")).to_be_visible()
    person = User.objects.get(email="nil@example.org")
    assert (person.timezone, person.unit) == ("America/Lima", "lb")


def test_a_password_may_be_pasted(cast: Cast, open_page: OpenPage) -> None:
    """WCAG 2.2, 3.3.8: signing in is no memory test."""
    page = open_page(permissions=["clipboard-read", "clipboard-write"])
    page.goto(link(cast))
    page.evaluate("navigator.clipboard.writeText('from a password manager')")
    page.get_by_label("Choose a password").focus()
    page.keyboard.press("Control+V")
    expect(page.get_by_label("Choose a password")).to_have_value("from a password manager")


def test_a_chosen_time_zone_is_not_guessed_over(cast: Cast, open_page: OpenPage) -> None:
    page = open_page(timezone_id="America/Lima")
    page.goto(link(cast))
    page.get_by_label("Your name").fill("Nil")
    page.get_by_label("Choose a password").fill("short")
    page.get_by_label("Time zone").select_option("Asia/Tokyo")
    page.get_by_role("button", name="Join").click()
    expect(page.get_by_text("at least 10 characters").first).to_be_visible()
    expect(page.get_by_label("Time zone")).to_have_value("Asia/Tokyo")


def test_signs_in_with_the_keyboard_alone(cast: Cast, open_page: OpenPage) -> None:
    page = open_page()
    page.goto("/accounts/login/")
    page.get_by_label("E-mail").focus()
    page.keyboard.type(cast.coach.email)
    page.keyboard.press("Tab")
    page.keyboard.type("a long passphrase")
    page.keyboard.press("Enter")
    page.wait_for_url("**/desk/")


def test_without_a_mail_server_the_coach_hands_the_link_over(
    cast: Cast, open_page: OpenPage, settings, tmp_path
) -> None:
    settings.EMAIL_BACKEND = "django.core.mail.backends.filebased.EmailBackend"
    settings.EMAIL_FILE_PATH = tmp_path
    desk = open_page(cast.coach)
    desk.goto("/people/")
    desk.get_by_label("E-mail", exact=True).fill("nil@example.org")
    desk.get_by_role("button", name="Send invitation").click()
    expect(desk.get_by_text("No mail went out.")).to_be_visible()
    shot(desk, "people-hand-over-1440-light")
    handed = desk.get_by_label("The link").input_value()
    phone = open_page(width=390)
    phone.goto(handed.removeprefix("http://localhost:8000"))
    expect(phone.get_by_role("heading", name="Join Northgate Barbell")).to_be_visible()
    desk.reload()
    expect(desk.get_by_role("button", name="Withdraw")).to_have_count(1)
