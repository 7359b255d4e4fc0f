"""Two coaches on one submission: one writes, the other reads along and can take over."""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import timedelta

from django.utils import timezone
from playwright.sync_api import Page, expect

from reviews.desk.models import Claim
from reviews.replies.models import Note
from tests.browser.player.pages import empty, held
from tests.browser.player.test_workbench import press, saved
from tests.conftest import Cast

Opened = Callable[..., Page]


def test_the_second_coach_reads_along_and_takes_over_when_the_claim_ends(
    cast: Cast, open_page: Opened
) -> None:
    path = empty(cast)
    first, second = open_page(cast.coach, theme="dark"), open_page(cast.second_coach, theme="dark")
    for page in (first, second):
        page.goto(path)
        expect(page.locator("player-controls .at")).to_contain_text(" of ")
    press(first, "n", "Escape", "w")
    first.keyboard.type("The bar is ahead of the foot.")
    press(first, "Escape", "p")
    saved(first)
    expect(second.locator("reply-panel .points")).to_contain_text("The bar is ahead")
    expect(second.locator("#send-why")).to_contain_text("Tove claimed it")
    press(second, "n", "s")  # neither a note nor a call: nothing is written by who reads
    expect(second.locator("reply-panel .focus")).to_have_count(1)
    assert second.get_by_label("Opening words").evaluate(
        "field => field.closest('[inert]') !== null"
    )
    expect(second.locator("save-state")).to_have_text("All saved")
    Claim.objects.update(until=timezone.now() - timedelta(seconds=1))
    second.get_by_role("button", name="Claim it").click()
    expect(second.get_by_role("button", name="Send reply")).to_be_enabled()
    second.get_by_label("Opening words").fill("Taken over.")
    saved(second)
    press(first, "w")
    first.keyboard.type(" And the heel lifts.")
    expect(first.locator("save-state")).to_have_text(re.compile("^Kept here, Bram claimed it"))
    expect(first.locator("#send-why")).to_contain_text("Bram claimed it")
    assert Note.objects.get().text == "The bar is ahead of the foot."


def test_what_another_coach_holds_says_so(cast: Cast, open_page: Opened) -> None:
    page = open_page(cast.coach, theme="dark")
    page.goto(held(cast))
    expect(page.get_by_text("The clip is being made ready.")).to_be_visible()
    expect(page.locator("#send-why")).to_contain_text("Bram")
