"""Keys of the workbench one after another, as fast as a coach presses them."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from reviews.replies.models import Note, Reply, ReplyVersion
from tests.browser.conftest import shot
from tests.browser.player.pages import empty, half_way
from tests.browser.player.test_workbench import on_frame, press, saved
from tests.conftest import Cast

Opened = Callable[..., Page]


@pytest.fixture
def at(cast: Cast, open_page: Opened) -> Opened:
    """at(build) -> the workbench with its clip on the screen."""

    def opened(build: Callable[[Cast], str]) -> Page:
        page = open_page(cast.coach, theme="dark")
        page.goto(build(cast))
        expect(page.locator("player-controls .at")).to_contain_text(" of ")
        return page

    return opened


def test_send_pressed_right_after_a_letter_sends_that_letter_too(at: Opened) -> None:
    page = at(half_way)
    page.get_by_label("Opening words").focus()
    page.keyboard.type("Go on")
    press(page, "!", "Control+Enter")
    expect(page.get_by_text("Sent to Mira Solheim.")).to_be_visible()
    assert ReplyVersion.objects.get().content["opening"] == "Go on!"


def test_send_pressed_right_after_what_makes_it_ready_sends_it(at: Opened) -> None:
    page = at(empty)
    press(page, "n", "Escape", "w")
    page.keyboard.type("Hips first.")
    press(page, "Escape")
    saved(page)
    press(page, "p", "Control+Enter")
    expect(page.get_by_text("Sent to Mira Solheim.")).to_be_visible()
    assert len(ReplyVersion.objects.get().content["points"]) == 1


def test_send_pressed_on_what_is_not_ready_does_not_go_later_by_itself(at: Opened) -> None:
    page = at(empty)
    press(page, "n", "Escape", "Control+Enter")
    expect(page.locator("#send-why")).to_have_text(
        "Put a note into the reply, or write an opening."
    )
    saved(page)
    page.get_by_label("Opening words").fill("Not to be sent yet.")
    saved(page)
    expect(page.get_by_role("button", name="Send reply")).to_be_enabled()
    assert not ReplyVersion.objects.exists()


def test_send_pressed_without_a_network_does_not_go_later_by_itself(at: Opened) -> None:
    page = at(half_way)
    page.context.set_offline(True)
    page.get_by_label("Opening words").fill("Typed on the train.")
    press(page, "Control+Enter")
    expect(page.locator("save-state")).to_contain_text("network is gone")
    expect(page.locator("#send-why")).to_have_text("It can go once everything is saved.")
    page.context.set_offline(False)
    saved(page)
    expect(page.get_by_role("button", name="Send reply")).to_be_enabled()
    assert not ReplyVersion.objects.exists()


def test_escape_from_the_list_makes_the_next_letter_a_key_again(at: Opened) -> None:
    page = at(empty)
    press(page, "n")
    page.keyboard.type("hips")
    expect(page.locator("[role=option]").first).to_be_visible()
    press(page, "Escape", "p")
    expect(page.locator("[role=listbox]")).to_be_hidden()
    expect(page.locator("library-finder input")).to_have_value("hips")
    saved(page)
    assert Note.objects.get().rank == 1


def test_frame_rep_and_note_are_found_again_after_the_correction_page(at: Opened) -> None:
    page = at(empty)
    press(page, "o")
    expect(page.get_by_role("button", name=re.compile("^Clip 2"))).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(page.locator("player-controls .at")).to_contain_text(" of 89")
    press(page, "Shift+ArrowRight", "n", "Escape", "3", "ArrowRight", "ArrowRight")
    on_frame(page, 12)
    press(page, "g")
    page.wait_for_url(re.compile("/change/|/correction"))
    page.get_by_role("link", name=re.compile("^Mira Solheim")).click()
    on_frame(page, 12)
    expect(page.get_by_role("button", name=re.compile("^Clip 2"))).to_have_attribute(
        "aria-pressed", "true"
    )
    expect(page.locator("rep-call .of")).to_have_text("Rep 3")
    expect(page.locator("note-editor")).to_be_visible()
    press(page, "ArrowRight")
    on_frame(page, 13)


def test_a_sent_reply_takes_no_edit_until_it_is_taken_up_again(at: Opened, cast: Cast) -> None:
    page = at(half_way)
    press(page, "Control+Enter")
    expect(page.get_by_text("Sent to Mira Solheim.")).to_be_visible()
    before = list(Note.objects.order_by("pk").values())
    opening = page.get_by_label("Opening words")
    inert = "field => field.closest('[inert]') !== null"
    expect(page.get_by_role("button", name="Change the reply")).to_be_visible()
    shot(page, "workbench-sent")

    def takes_nothing() -> None:
        assert opening.evaluate(inert)
        assert page.locator("rep-call").evaluate("bar => bar.inert")
        press(page, "n", "x", "p", "Delete", "u")
        expect(page.get_by_role("button", name="Note here", exact=True)).to_be_disabled()
        expect(page.locator("reply-panel .focus")).to_have_count(3)
        expect(page.locator("save-state")).not_to_have_attribute("data-state", "kept")
        assert list(Note.objects.order_by("pk").values()) == before

    takes_nothing()
    page.reload()
    expect(page.locator("player-controls .at")).to_contain_text(" of ")
    expect(page.get_by_text("Sent to Mira Solheim.")).to_be_visible()
    takes_nothing()
    page.get_by_role("button", name="Change the reply").click()
    expect(page.get_by_role("button", name="Send reply")).to_be_enabled()
    opening.fill("One thing more.")
    saved(page)
    assert Reply.objects.get().opening == "One thing more."
    assert page.url.endswith(reverse("workbench", args=[Reply.objects.get().submission_id]))
