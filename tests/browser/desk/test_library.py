"""Finding, adding, editing and retiring library entries in the browser."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from tests.browser.conftest import OpenPage


@pytest.fixture
def library(cast, open_page: OpenPage) -> Page:
    page = open_page(cast.coach)
    page.goto(reverse("library"))
    return page


def test_a_few_letters_find_an_entry(library: Page) -> None:
    find = library.get_by_label("Find a fault, cue or drill")
    find.press_sequentially("glass")
    expect(library.locator(".found")).to_contain_text("Bounce off the chest")
    expect(library.locator(".found")).not_to_contain_text("Hips rise first")
    expect(library).to_have_url(re.compile("q=glass"))
    expect(find).to_be_focused()
    library.get_by_role("link", name="Bounce off the chest").click()
    expect(library.locator("h1")).to_have_text("Bounce off the chest")
    library.go_back()
    expect(library.locator(".masthead")).to_be_visible()
    expect(library.locator(".found")).to_contain_text("Bounce off the chest")


def test_choosing_a_lift_by_keyboard(library: Page) -> None:
    library.get_by_role("radio", name="Squat", exact=True).focus()
    library.keyboard.press("ArrowRight")
    expect(library.locator(".found")).to_contain_text("Hips leave the bench")


def test_adding_with_a_mistake_first(library: Page) -> None:
    library.get_by_role("link", name="Add a fault").click()
    library.get_by_label("Name").fill("Knees come in")
    library.get_by_label("Phase").select_option("Descent")
    library.get_by_label("How to see it").fill("From the front.")
    library.get_by_role("button", name="Save the entry").click()
    expect(library.get_by_role("alert")).to_contain_text("not saved yet")
    expect(library.locator(".field.wrong")).to_contain_text("is there already: edit it")
    expect(library.get_by_label("How to see it")).to_have_value("From the front.")
    library.get_by_label("Name").fill("Knees drift apart")
    library.get_by_role("button", name="Save the entry").click()
    expect(library.locator("h1")).to_have_text("Knees drift apart")


def test_cues_are_kept_on_the_page_and_retired_ones_come_back(library: Page) -> None:
    library.get_by_role("link", name="Hips rise first").click()
    library.get_by_role("link", name="Add a cue").click()
    library.get_by_label("The words").fill("Carry the tray level.")
    library.get_by_role("button", name="Add", exact=True).click()
    cues = library.locator("#cues")
    expect(cues).to_contain_text("Carry the tray level.")
    library.get_by_role("link", name="Edit Carry the tray level.").click()
    library.get_by_label("The words").fill("Keep the tray level.")
    library.get_by_role("button", name="Save").click()
    library.get_by_role("button", name="Retire Keep the tray level.").click()
    cues.get_by_text("1 retired").click()
    cues.get_by_role("button", name="Bring back Keep the tray level.").click()
    expect(cues.locator("q", has_text="Keep the tray level.")).to_be_visible()


def test_retiring_a_fault_takes_it_out_of_the_list(library: Page) -> None:
    library.get_by_role("link", name="Loose brace").click()
    library.get_by_role("button", name="Retire", exact=True).click()
    expect(library.locator("article")).to_contain_text("It is not offered any more")
    library.get_by_role("link", name="Library, squat").click()
    expect(library.locator(".entries.old")).to_contain_text("Loose brace")
    library.get_by_role("link", name="Loose brace").click()
    library.get_by_role("button", name="Bring it back").click()
    expect(library.get_by_role("button", name="Retire", exact=True)).to_be_visible()
