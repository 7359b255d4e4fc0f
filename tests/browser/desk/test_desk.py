"""The desk without a mouse."""

import re

import pytest
from django.urls import reverse
from playwright.sync_api import Page, expect

from reviews.desk.claiming import claim, live_claim
from reviews.intake.models import Clip, ClipState, Submission
from tests.browser.conftest import OpenPage
from tests.reviews.desk.build import sent


@pytest.fixture
def three(cast) -> list[Submission]:
    """In the order of the queue."""
    return [
        sent(cast.athlete, days=1, pain=3, question="My back grips."),
        sent(cast.other_athlete, days=3, question="Is this deep enough?"),
        sent(cast.athlete, days=2, question="Do my knees come in?"),
    ]


@pytest.fixture
def desk(cast, three, open_page: OpenPage) -> Page:
    page = open_page(cast.coach)
    page.goto(reverse("desk"))
    return page


def opened(page: Page, submission: Submission) -> None:
    expect(page).to_have_url(re.compile(reverse("workbench", args=[submission.pk]) + "$"))


def test_the_arrows_move_and_enter_opens_that_one(desk: Page, cast, three) -> None:
    desk.keyboard.press("ArrowDown")  # from nowhere: the one that is next
    lines = desk.locator("[data-line]")
    expect(lines.nth(0)).to_be_focused()
    desk.keyboard.press("ArrowDown")
    desk.keyboard.press("ArrowDown")
    desk.keyboard.press("ArrowDown")  # the end is the end
    expect(lines.nth(2)).to_be_focused()
    desk.keyboard.press("ArrowUp")
    expect(lines.nth(1)).to_be_focused()
    desk.keyboard.press("Enter")
    opened(desk, three[1])
    assert live_claim(three[1]).coach == cast.coach
    assert live_claim(three[0]) is None


@pytest.mark.parametrize("key", ["Enter", "n"])
def test_one_key_opens_the_next(desk: Page, cast, three, key: str) -> None:
    desk.keyboard.press(key)
    opened(desk, three[0])
    assert live_claim(three[0]).coach == cast.coach


def test_letters_can_be_switched_off_and_the_rest_still_works(
    cast, three, open_page: OpenPage
) -> None:
    """WCAG 2.2, 2.1.4 Character Key Shortcuts: a way to turn them off."""
    page = open_page(cast.coach)
    page.goto(reverse("profile"))
    page.get_by_role("radio", name="Off", exact=True).check()
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("Saved", exact=False).first).to_be_visible()
    page.goto(reverse("desk"))
    page.keyboard.press("n")
    page.keyboard.press("?")
    expect(page).to_have_url(re.compile(reverse("desk") + "$"))
    page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    opened(page, three[0])
    page.keyboard.press("n")
    page.keyboard.press("1")
    expect(page.locator("reply-panel .focus")).to_have_count(0)


def test_what_another_coach_opened_is_passed_over(desk: Page, cast, three, open_page) -> None:
    other = open_page(cast.second_coach)
    other.goto(reverse("desk"))
    other.keyboard.press("n")
    opened(other, three[0])
    desk.keyboard.press("n")  # this desk was read before and still shows it as free
    opened(desk, three[1])


def test_one_is_claimed_for_later_and_given_back(desk: Page, cast, three) -> None:
    desk.keyboard.press("ArrowDown")
    desk.keyboard.press("ArrowDown")
    desk.keyboard.press("c")
    expect(desk.get_by_role("status")).to_contain_text("is kept for you until")
    assert live_claim(three[1]).coach == cast.coach
    line = desk.locator("#line-2 [data-line]")
    line.focus()
    desk.keyboard.press("h")
    expect(desk.locator("h1")).to_have_text("Hand it to another coach")
    desk.go_back()
    line.focus()
    desk.keyboard.press("g")
    expect(desk.get_by_role("status")).to_contain_text("is back in the queue")
    assert live_claim(three[1]) is None


def test_what_was_claimed_keeps_the_focus_so_the_next_key_means_it(desk: Page, three) -> None:
    desk.keyboard.press("ArrowDown")
    desk.keyboard.press("ArrowDown")
    desk.keyboard.press("c")
    expect(desk.get_by_role("status")).to_contain_text("is kept for you until")
    line = desk.locator(f"#submission-{three[1].pk}")
    expect(line).to_be_focused()
    desk.keyboard.press("h")
    expect(desk.locator("h1")).to_have_text("Hand it to another coach")
    desk.get_by_role("link", name="Leave it").click()
    expect(line).to_be_focused()
    desk.keyboard.press("g")
    expect(desk.get_by_role("status")).to_contain_text("is back in the queue")
    expect(line).to_be_focused()
    assert live_claim(three[1]) is None


def test_a_key_that_can_do_nothing_says_why(desk: Page, cast, three) -> None:
    desk.keyboard.press("h")
    why = desk.locator("[data-why]")
    expect(why).to_have_text("Claim it first, with c. Only what you hold can be handed over.")
    desk.keyboard.press("g")
    expect(why).to_have_text("Claim it first, with c. Only what you hold can be given back.")
    claim(submission=three[0], coach=cast.second_coach)
    desk.reload()
    desk.locator(f"#submission-{three[0].pk}").focus()
    desk.keyboard.press("c")
    expect(why).to_have_text("Another coach has it. Enter opens it to read along.")
    desk.keyboard.press("ArrowUp")
    expect(why).to_be_empty()


def test_escape_leaves_the_list_and_the_next_letter_is_a_key_again(desk: Page, three) -> None:
    desk.keyboard.press("f")
    expect(desk.get_by_label("Whose")).to_be_focused()
    desk.keyboard.press("Escape")
    expect(desk.locator("[data-line]").first).to_be_focused()
    desk.keyboard.press("n")
    opened(desk, three[0])


def test_the_part_that_is_looked_at_is_kept_through_the_workbench(desk: Page, three) -> None:
    Clip.objects.update(state=ClipState.RECEIVING)  # the workbench opens without
    desk.goto(f"{reverse('desk')}?what=pain")
    desk.keyboard.press("n")
    opened(desk, three[0])
    expect(desk.locator("send-reply button").first).to_be_visible()  # the page is up
    desk.keyboard.press("d")
    expect(desk).to_have_url(re.compile(r"what=pain$"))


def test_the_time_tonight_moves_the_cut_and_keeps_the_focus(desk: Page, settings) -> None:
    expect(desk.locator("h1")).to_have_text("Your 90 minutes fit all 3 that wait")
    select = desk.get_by_label("Time tonight")
    select.focus()
    select.select_option("15 minutes")
    expect(desk.locator("h1")).to_have_text("Your 15 minutes fit all 3 that wait")
    expect(desk.get_by_label("Time tonight")).to_be_focused()
    desk.keyboard.press("n")  # in a list a letter is the list's own
    expect(desk).to_have_url(re.compile(reverse("desk") + "$"))
    desk.reload()
    expect(desk.locator("h1")).to_have_text("Your 15 minutes fit all 3 that wait")


def test_the_keys_are_listed(desk: Page) -> None:
    desk.keyboard.press("?")
    expect(desk.locator("[data-keys]")).to_be_focused()
    expect(desk.locator("[data-keys]")).to_contain_text("open the next")


def test_looking_at_a_part_by_keyboard(desk: Page, cast, three) -> None:
    desk.keyboard.press("f")
    expect(desk.get_by_label("Whose")).to_be_focused()
    desk.keyboard.press("Tab")
    desk.keyboard.press("Tab")
    what = desk.get_by_label("What")
    expect(what).to_be_focused()
    desk.keyboard.press("P")  # a list finds its options by letters
    expect(desk.locator(".filter-result")).to_contain_text("1 of the 3")
    expect(desk).to_have_url(re.compile(r"what=pain$"))
    expect(what).to_be_focused()
    expect(desk.locator("[data-line]")).to_have_count(1)
    desk.get_by_role("link", name="Show all 3").press("Enter")
    expect(desk.locator("[data-line]")).to_have_count(3)
