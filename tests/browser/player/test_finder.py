"""Finding a fault, a cue or a drill faster than the page: nothing typed is lost on the way."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page, Route, expect

from reviews.replies.models import Note
from tests.browser.player.pages import empty
from tests.browser.player.test_workbench import press, saved
from tests.conftest import Cast

Opened = Callable[..., Page]


def with_the_library_held_back(page: Page, path: str) -> list[Route]:
    """Open the workbench while the library's answer waits; the caller lets it go."""
    held: list[Route] = []
    page.route("**/api/v1/library/**", lambda route: held.append(route))
    page.goto(path)
    expect(page.locator("player-controls .at")).to_contain_text(" of ")
    return held


def test_letters_typed_before_the_library_is_here_are_looked_up_when_it_is(
    cast: Cast, open_page: Opened
) -> None:
    page = open_page(cast.coach, theme="dark")
    held = with_the_library_held_back(page, empty(cast))
    press(page, "n", "h", "i", "p")
    expect(page.locator("library-finder [role=status]")).to_have_text("Loading the library")
    for route in held:
        route.continue_()
    expect(page.locator("[role=option]").first).to_contain_text("Hips rise first")


def test_a_whole_note_entered_before_the_library_is_here_becomes_that_note(
    cast: Cast, open_page: Opened
) -> None:
    page = open_page(cast.coach, theme="dark")
    held = with_the_library_held_back(page, empty(cast))
    page.context.new_cdp_session(page).send("Emulation.setCPUThrottlingRate", {"rate": 6})
    press(page, "n", "h", "i", "p", "Enter", "p", "u", "s", "Enter", "q", "q", "Enter")
    press(page, "Escape", "p", "Escape")
    for route in held:
        route.continue_()
    expect(page.locator("reply-panel .points")).to_contain_text("Hips rise first")
    expect(page.locator("reply-panel .points")).to_contain_text("Push")
    saved(page)
    note = Note.objects.get()
    assert (note.fault_name, note.rank) == ("Hips rise first", 1)
    assert note.cue_text.startswith("Push")
    assert note.text == "qq", "letters that find nothing are kept as words"


def test_a_cue_and_a_drill_the_library_does_not_have(cast: Cast, open_page: Opened) -> None:
    page = open_page(cast.coach, theme="dark")
    page.goto(empty(cast))
    expect(page.locator("player-controls .at")).to_contain_text(" of ")
    press(page, "n")
    page.keyboard.type("Zip the coat up")
    expect(page.locator("library-finder [role=status]")).to_have_text("Nothing in the library.")
    press(page, "Enter")  # a slip of the finger makes no cue
    expect(page.locator(".picked li")).to_have_count(0)
    press(page, "ArrowDown", "Enter")
    page.keyboard.type("Walkouts, 3 × 1")
    press(page, "ArrowUp", "Enter")
    expect(page.locator(".picked li")).to_have_count(2)
    saved(page)
    note = Note.objects.get()
    assert (note.cue, note.cue_text) == (None, "Zip the coat up")
    assert (note.drill, note.drill_text) == (None, "Walkouts, 3 × 1")
    page.get_by_role("button", name="Take the cue off").click()
    saved(page)
    note.refresh_from_db()
    assert (note.cue_text, note.drill_text) == ("", "Walkouts, 3 × 1")
