"""Training on a phone in real Chromium against the real server: the network dies, the server dies,
the page is opened again without either, and the server ends with exactly what was lifted."""

import json
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.conftest import shot
from tests.reviews.intake.site import TOKEN, Site

# The site has a database of its own; the browser fixture alone needs the tests' to be there.
pytestmark = [
    pytest.mark.django_db,
    pytest.mark.xdist_group("training"),  # one server
]
PATIENCE_MS = 20_000
PLAN = """
from django.test import Client
from athletes.local_time import today_of
from athletes.models import User
from programming.logs.models import LoggedSession, Removed
from programming.models import Programme
from tests.programming.logs.rows import a_plan
athlete = User.objects.get(email="mira@example.org")
LoggedSession.objects.all().delete()
Removed.objects.all().delete()
Programme.objects.all().delete()
a_plan(athlete, today_of(athlete), (("Low-bar squat", 2, 3, "140"), ("Barbell row", 2, 8, "60")))
client = Client()
client.force_login(athlete)
print(client.cookies["sessionid"].value)
"""


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Iterator[Site]:
    site = Site(tmp_path_factory.mktemp("training")).prepare().start()
    yield site
    site.end()


@pytest.fixture
def phone(chromium: Browser, site: Site) -> Iterator[Callable[[], Page]]:
    """phone() is a new phone of Mira's, on a day with two squat sets and two row sets."""
    if site.process is None:
        site.start()
    session = site.manage("shell", "-v0", "-c", PLAN).split()[-1]
    site.people["mira"]["session"] = session
    contexts: list[BrowserContext] = []
    thrown: list[str] = []

    def opened() -> Page:
        context = chromium.new_context(
            base_url=site.url, viewport={"width": 390, "height": 844}, has_touch=True
        )
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        cookies = {"sessionid": session, "csrftoken": TOKEN}
        context.add_cookies([{"name": k, "value": v, "url": site.url} for k, v in cookies.items()])
        page = context.new_page()
        page.on("pageerror", lambda error: thrown.append(str(error)))
        page.on("dialog", lambda dialog: dialog.accept())
        page.goto("/today/session/")
        expect(page.locator("[data-opens]")).to_contain_text("opens without a network")
        return page

    yield opened
    for context in contexts:
        context.close()
    assert not thrown, thrown


def log_set(page: Page) -> None:
    """One tap: the coming set as prescribed."""
    count = page.locator(".sets > li").count()
    page.locator("set-form button[type=submit]").click()
    expect(page.locator(".sets > li")).to_have_count(count + 1)


def kept(page: Page, text: str) -> None:
    expect(page.locator("[data-kept]")).to_contain_text(text, timeout=PATIENCE_MS)


def stored(site: Site) -> Any:
    """The one session the server holds."""
    (log,) = site.json("GET", "/api/v1/training/")["logs"]
    return log


def lifted(site: Site) -> list[tuple[str, int, int, str | None]]:
    return [(s["load"], s["reps"], s["missed_reps"], s["rpe"]) for s in stored(site)["sets"]]


def test_a_whole_session_through_a_dead_network(phone, site: Site) -> None:
    page = phone()
    log_set(page)
    kept(page, "All sent")
    page.context.set_offline(True)
    page.get_by_role("button", name="More RPE").click()
    page.get_by_role("button", name="More missed reps").click()
    log_set(page)
    kept(page, "Kept on this phone: 1 set. They are sent when the network is back.")
    page.reload()
    expect(page.locator(".sets > li")).to_have_count(2)
    log_set(page)
    page.get_by_label("load, kg", exact=True).fill("62,5")
    log_set(page)
    kept(page, "Kept on this phone: 3 sets")
    shot(page, "training-offline-390")
    page.get_by_role("button", name="Finish session").click()
    page.get_by_label("7 Very hard").check()
    page.reload()
    expect(page.get_by_label("7 Very hard")).to_be_checked()
    page.context.set_offline(False)
    kept(page, "All sent")
    assert lifted(site) == [
        ("140", 3, 0, None), ("140", 2, 1, "8"), ("60", 8, 0, None), ("62.5", 8, 0, None)
    ]  # fmt: skip
    log = stored(site)
    assert (log["session_rpe"], log["minutes"]) == ("7", None)
    assert log["planned"]
    assert log["finished_at"]


def test_minutes_that_nobody_filled_in_are_unknown(phone, site: Site) -> None:
    """The time between the taps is offered, and counts once somebody takes it."""
    page = phone()
    log_set(page)
    log_set(page)
    page.get_by_role("button", name="Finish session").click()
    expect(page.get_by_label("minutes, min")).to_have_value("")
    page.get_by_label("7 Very hard").check()
    kept(page, "All sent")
    assert (stored(site)["session_rpe"], stored(site)["minutes"]) == ("7", None)
    shot(page, "training-minutes-390")
    page.get_by_role("button", name="Take 1 min, first to last set").click()
    expect(page.get_by_label("minutes, min")).to_have_value("1")
    kept(page, "All sent")
    assert stored(site)["minutes"] == 1


KNOWN = """
from athletes.models import User
from athletes.local_time import today_of
from programming.logs.models import MaxRecord
from tests.programming.logs.rows import movement
athlete = User.objects.get(email="mira@example.org")
MaxRecord.objects.all().delete()
MaxRecord.objects.create(athlete=athlete, movement=movement(), kind="best", source="hand",
    reason="A meet", day=today_of(athlete), kg=210, low_kg=210, high_kg=210)
"""


def test_a_load_far_above_what_is_known_is_asked_about_offline_too(phone, site: Site) -> None:
    page = phone()
    site.manage("shell", "-v0", "-c", KNOWN)
    page.reload()
    page.context.set_offline(True)
    load = page.get_by_label("load, kg", exact=True)
    load.fill("250")
    page.locator("set-form button[type=submit]").click()
    question = "250\u2009kg is 19% above the 210\u2009kg known for this lift. Is that load right?"
    expect(page.locator("set-form [role=alert]", has_text=question)).to_be_visible()
    expect(page.locator(".sets > li")).to_have_count(0)
    shot(page, "training-question-390")
    page.get_by_role("button", name="Change the load").click()
    expect(load).to_be_focused()
    load.fill("150")
    log_set(page)
    load.fill("250")
    page.locator("set-form button[type=submit]").click()
    page.get_by_role("button", name="The load is right").click()
    expect(page.locator(".sets > li")).to_have_count(2)
    page.context.set_offline(False)
    kept(page, "All sent")
    assert [load for load, *_ in lifted(site)] == ["150", "250"]


def test_the_server_is_killed_in_the_middle(phone, site: Site) -> None:
    page = phone()
    log_set(page)
    kept(page, "All sent")
    site.end()  # SIGKILL
    log_set(page)
    log_set(page)
    kept(page, "Kept on this phone: 2 sets")
    page.reload()
    kept(page, "Kept on this phone: 2 sets")
    expect(page.locator(".sets > li")).to_have_count(3)
    log_set(page)
    site.start()
    page.evaluate("dispatchEvent(new Event('online'))")  # as the phone says when a network is back
    kept(page, "All sent")
    assert lifted(site) == [("140", 3, 0, None)] * 2 + [("60", 8, 0, None)] * 2
    page.reload()
    expect(page.locator(".sets > li")).to_have_count(4)


def test_a_set_is_changed_and_taken_out(phone, site: Site) -> None:
    page = phone()
    log_set(page)
    log_set(page)
    page.get_by_role("button", name="Change set 1").click()
    edited = page.locator("set-form").filter(has_text="Change set 1")
    edited.get_by_role("button", name="Less reps", exact=True).click()
    edited.get_by_role("button", name="Save the change").click()
    page.get_by_role("button", name="Change set 2").click()
    page.get_by_role("button", name="Take it out").click()
    expect(page.locator(".sets > li")).to_have_count(1)
    kept(page, "All sent")
    assert lifted(site) == [("140", 2, 0, None)]


def test_a_tap_counts_while_the_page_is_drawn_anew(phone) -> None:
    page = phone()
    log_set(page)
    kept(page, "All sent")
    page.get_by_role("button", name="Change set 1").hover()
    page.mouse.down()
    page.evaluate("document.querySelector('session-page').draw()")  # as when an answer arrives
    page.mouse.up()
    expect(page.get_by_role("button", name="Take it out")).to_be_visible()


def test_a_session_beside_the_plan_and_a_load_that_cannot_be(phone, site: Site) -> None:
    page = phone()
    page.get_by_label("Movement").select_option(label="Front squat")
    page.get_by_role("button", name="Add").click()
    page.get_by_label("load, kg", exact=True).fill("9000")
    log_set(page)
    row = page.locator(".sets > li")
    expect(row).to_contain_text("9000 kg cannot be right. Check the load.")
    expect(row).to_contain_text("not taken")
    page.get_by_role("button", name="Change set 1").click()
    edited = page.locator("set-form").filter(has_text="Change set 1")
    edited.get_by_label("load, kg", exact=True).fill("90")
    edited.get_by_role("button", name="Save the change").click()
    kept(page, "All sent")
    assert lifted(site) == [("90", 5, 0, None)]


def test_two_phones_without_a_network_make_one_session(phone, site: Site) -> None:
    first, second = phone(), phone()
    for page in (first, second):
        page.context.set_offline(True)
        log_set(page)
    for page in (first, second):
        page.context.set_offline(False)
        kept(page, "All sent")
    assert len(stored(site)["sets"]) == 2
    first.evaluate("dispatchEvent(new Event('online'))")
    expect(first.locator(".sets > li")).to_have_count(2)


def test_signed_out_meanwhile_costs_nothing(phone, site: Site) -> None:
    page = phone()
    page.context.add_cookies([{"name": "sessionid", "value": "gone", "url": site.url}])
    log_set(page)
    kept(page, "You are signed out. They are sent as soon as you sign in again.")
    page.get_by_role("link", name="Sign in", exact=True).click()
    page.wait_for_url("**/accounts/login/?next=/today/session/")
    again = site.people["mira"]["session"]
    page.context.add_cookies([{"name": "sessionid", "value": again, "url": site.url}])
    page.goto("/today/session/")
    kept(page, "All sent")
    assert lifted(site) == [("140", 3, 0, None)]
    page.get_by_role("button", name="Finish session").click()
    yesterday = page.evaluate("new Date(Date.now() - 864e5).toISOString().slice(0, 10)")
    page.get_by_label("Trained on").fill(yesterday)
    page.get_by_label("Trained on").blur()
    kept(page, "All sent")
    assert stored(site)["day"] == yesterday


def test_signing_out_leaves_nothing_on_the_phone(phone, site: Site) -> None:
    page = phone()
    page.context.set_offline(True)
    log_set(page)
    # Before the network is back, or the set would be sent in the meantime.
    page.route("**/api/v1/log/**", lambda route: route.abort())
    page.context.set_offline(False)
    page.evaluate("localStorage.setItem('other', 'goes')")
    page.goto("/me/")
    form = page.locator("form[action='/accounts/logout/']")
    expect(form).to_contain_text("not sent yet")
    form.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/accounts/login/**")
    left = page.evaluate(
        "async () => JSON.stringify({kept: Object.keys(localStorage), copies: await caches.keys(),"
        " workers: (await navigator.serviceWorker.getRegistrations()).length})"
    )
    assert json.loads(left) == {"kept": [], "copies": [], "workers": 0}
