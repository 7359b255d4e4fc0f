"""The workbench's geometry: the clip keeps its height and no word is broken, whatever came."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.conftest import shot
from tests.browser.player.pages import empty, half_way, twelve_clips
from tests.conftest import Cast

Opened = Callable[..., Page]
SIZES = [(1280, 720), (1440, 900), (1920, 1080)]
BROKEN_WORD = """element => {
  const range = document.createRange();
  const node = document.createTreeWalker(element, NodeFilter.SHOW_TEXT);
  for (let text = node.nextNode(); text; text = node.nextNode()) {
    for (const match of text.textContent.matchAll(/[^\\s-]{1,20}/g)) {
      if (match[0].length < 3) continue;
      range.setStart(text, match.index);
      range.setEnd(text, match.index + match[0].length);
      const lines = new Set([...range.getClientRects()].map((box) => Math.round(box.top)));
      if (lines.size > 1) return match[0];
    }
  }
  return "";
}"""


def whole(heading: Locator) -> None:
    """No word of it is broken over two lines."""
    assert heading.evaluate(BROKEN_WORD) == ""


def height(page: Page, place: str) -> float:
    box = page.locator(place).bounding_box()
    assert box
    return box["height"]


@pytest.mark.parametrize("shape", ["wide", "constant"])
def test_twelve_clips_leave_the_clip_its_height_and_the_heading_whole(
    cast: Cast, open_page: Opened, shape: str
) -> None:
    page = open_page(cast.coach, theme="dark")
    page.goto(twelve_clips(cast, shape))
    expect(page.locator("player-controls .at")).to_contain_text(" of ")
    for width, tall in SIZES:
        page.set_viewport_size({"width": width, "height": tall})
        shot(page, f"workbench-twelve-{shape}-{width}")
        clip = height(page, "exact-player")
        assert clip >= (0.55 if shape == "constant" else 0.24) * tall, (width, clip)
        whole(page.locator("review-header h1"))
        whole(page.locator("review-header .facts-line"))
        assert height(page, "review-header") <= 0.2 * tall
        root = "() => [document.documentElement.scrollWidth, document.documentElement.scrollHeight]"
        assert page.evaluate(root) == [width, tall]
        over = "header => header.scrollWidth - header.clientWidth"
        assert page.locator("review-header").evaluate(over) <= 0
    page.set_viewport_size({"width": 390, "height": 844})
    assert page.evaluate("() => document.documentElement.scrollWidth") == 390
    whole(page.locator("review-header h1"))
    shot(page, f"workbench-twelve-{shape}-390")


def test_each_of_twelve_clips_can_be_chosen(cast: Cast, open_page: Opened) -> None:
    page = open_page(cast.coach, theme="dark")
    page.goto(twelve_clips(cast))
    expect(page.locator("player-controls .at")).to_contain_text(" of ")
    choice = page.get_by_role("combobox", name="Clip", exact=True)
    expect(choice.locator("option")).to_have_count(12)
    choice.select_option(index=8)
    expect(page.locator("review-header .lift")).to_contain_text("130\u2009kg")
    page.keyboard.press("o")
    expect(page.locator("review-header .lift")).to_contain_text("140\u2009kg")
    expect(choice.locator("option:checked")).to_have_text("Clip 10, 140\u2009kg")


@pytest.mark.parametrize("build", [empty, half_way, partial(twelve_clips, shape="constant")])
def test_the_heading_of_the_reply_is_whole_whatever_is_said_beside_it(
    cast: Cast, open_page: Opened, build: Callable[[Cast], str]
) -> None:
    page = open_page(cast.coach, theme="dark")
    page.goto(build(cast))
    expect(page.locator("player-controls .at")).to_contain_text(" of ")
    page.route("**/api/v1/**", lambda route: route.abort())
    page.keyboard.press("n")
    expect(page.locator("save-state")).to_have_attribute("data-state", "kept")
    for width, tall in [*SIZES, (390, 844)]:
        page.set_viewport_size({"width": width, "height": tall})
        whole(page.locator(".answer .reply-bar h2"))
    shot(page, "workbench-kept-390")
