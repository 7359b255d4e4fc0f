"""Nothing a coach typed is lost: a tab closed unsent, and two tabs of one coach."""

from __future__ import annotations

import re
from collections.abc import Callable

from django.contrib.sessions.models import Session
from playwright.sync_api import Page, Route, expect

from athletes.models import User
from reviews.replies.models import Note, Reply
from tests.browser.player.pages import empty
from tests.browser.player.test_workbench import press, saved
from tests.browser.waiting import wait_until
from tests.conftest import Cast

Opened = Callable[..., Page]
PASSWORD = "chalk and iron"
KEPT = re.compile("^Kept here, the server does not answer for now")


def test_a_tab_closed_unsent_is_taken_up_by_the_next_and_not_by_one_that_is_open(
    cast: Cast, open_page: Opened
) -> None:
    path = empty(cast)
    first = open_page(cast.coach, theme="dark")
    other = first.context.new_page()
    for page in (first, other):
        page.goto(path)
        expect(page.locator("player-controls .at")).to_contain_text(" of ")
    first.route("**/api/v1/notes/**", lambda route: route.abort())
    press(first, "n", "Escape", "w")
    first.keyboard.type("Typed before the tab was closed.")
    expect(first.locator("save-state")).to_have_text(KEPT)
    other.get_by_label("Opening words").fill("From the other tab.")
    saved(other)  # its own place is empty now, and only its own
    other.reload()
    expect(other.locator("player-controls .at")).to_contain_text(" of ")
    assert not Note.objects.exists(), "the first tab is open: its words are its own to send"
    first.close()
    other.reload()
    item = other.locator("reply-panel").get_by_role("button", name="Typed before the tab")
    expect(item).to_be_visible()
    saved(other)
    assert Note.objects.get().text == "Typed before the tab was closed."
    assert Reply.objects.get().opening == "From the other tab."
    assert other.evaluate("() => localStorage.length") == 0


def test_what_arrives_while_the_page_is_being_left_is_on_the_next_one(
    cast: Cast, open_page: Opened
) -> None:
    """The next page was written before the note arrived, and comes after it."""
    page = open_page(cast.coach, theme="dark")
    held: list[Route] = []
    page.goto(empty(cast))
    expect(page.locator("player-controls .at")).to_contain_text(" of ")

    def hold_first(route: Route) -> None:
        if held:
            return route.continue_()
        held.append(route)

    def late(route: Route) -> None:
        written = route.fetch()
        with page.expect_response(held[0].request.url):
            held[0].continue_()
        page.wait_for_timeout(100)  # the page that is left hears of it
        route.fulfill(response=written)

    page.route("**/api/v1/notes/**", hold_first)
    press(page, "n", "Escape", "w")
    page.keyboard.type("Typed as the page was left.")
    wait_until(page, "Object.values(localStorage).join('').includes('page was left')")
    page.route(page.url, late, times=1)
    while not held:
        page.wait_for_timeout(50)
    page.reload()
    item = page.locator("reply-panel").get_by_role("button", name="Typed as the page was left")
    expect(item).to_be_visible()
    saved(page)
    assert Note.objects.get().text == "Typed as the page was left."
    assert page.evaluate("() => localStorage.length") == 0


def test_words_typed_over_what_was_still_on_its_way_are_the_ones_that_are_kept(
    cast: Cast, open_page: Opened
) -> None:
    """The closed page left two states of one note: the empty one under way, the one with words."""
    page = open_page(cast.coach, theme="dark")
    page.goto(empty(cast))
    expect(page.locator("player-controls .at")).to_contain_text(" of ")
    held: list[Route] = []
    page.route("**/api/v1/notes/**", lambda route: held.append(route))
    press(page, "n", "Escape")
    while not held:
        page.wait_for_timeout(50)
    press(page, "w")
    page.keyboard.type("Typed over it.")
    wait_until(page, "Object.values(localStorage).join('').includes('Typed over it')")
    page.unroute("**/api/v1/notes/**")
    page.reload()
    expect(page.locator("reply-panel").get_by_role("button", name="Typed over it.")).to_be_visible()
    saved(page)
    assert Note.objects.get().text == "Typed over it."


def test_a_session_that_ends_in_mid_review_is_taken_up_by_a_sign_in_in_another_tab(
    cast: Cast, open_page: Opened
) -> None:
    for person in (cast.coach, cast.second_coach):
        person.set_password(PASSWORD)
        person.save()
    page = open_page(cast.coach, theme="dark")
    page.goto(empty(cast))
    expect(page.locator("player-controls .at")).to_contain_text(" of ")
    Session.objects.all().delete()
    press(page, "n", "Escape", "w")
    page.keyboard.type("Typed after the session ended.")
    state = page.locator("save-state")
    expect(state).to_have_text("Kept here, You are signed out. Sign in again in another tab.")
    assert not Note.objects.exists()
    # Nothing goes out in the name of somebody else who signs in meanwhile.
    sign_in(page, cast.second_coach)
    page.evaluate("() => dispatchEvent(new Event('online'))")
    expect(state).to_contain_text("Somebody else is signed in now.")
    assert not Note.objects.exists()
    page.context.clear_cookies(name="sessionid")
    sign_in(page, cast.coach)
    # The other tab's sign-in made this page's token worthless; it is seen again, and goes on.
    page.bring_to_front()
    page.evaluate("() => dispatchEvent(new Event('online'))")
    saved(page)
    assert Note.objects.get().text == "Typed after the session ended."
    page.get_by_label("Opening words").fill("And on it goes.")
    saved(page)
    assert Reply.objects.get().opening == "And on it goes."


def sign_in(page: Page, person: User) -> None:
    """In another tab of the same browser."""
    other = page.context.new_page()
    other.goto("/desk/")
    other.get_by_label("E-mail").fill(person.email)
    other.get_by_label("Password").fill(PASSWORD)
    other.get_by_role("button", name="Sign in", exact=True).click()
    expect(other).to_have_url(re.compile("/desk/$"))
    other.close()
