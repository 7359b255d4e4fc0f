"""Nothing a coach typed is lost: a tab closed unsent, and two tabs of one coach."""

from __future__ import annotations

import re
from collections.abc import Callable

from playwright.sync_api import Page, expect

from reviews.replies.models import Note, Reply
from tests.browser.player.pages import empty
from tests.browser.player.test_workbench import press, saved
from tests.conftest import Cast

Opened = Callable[..., Page]
KEPT = re.compile("^Kept here, the network is gone")


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
