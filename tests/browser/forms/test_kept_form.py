"""Plain forms keep their words: without a network, over a reload, for their writer alone."""

import pytest
from django.conf import settings
from django.urls import reverse
from playwright.sync_api import Page, Route, expect

from reviews.library.models import Fault
from reviews.replies.models import Message, ReplyVersion
from tests.browser.conftest import session_cookie, shot, signed_in
from tests.browser.forms.form_cases import FORMS, FormCase, type_into
from tests.browser.reply.factories import make_reply_in_words
from tests.browser.reply.pages import page_of
from tests.browser.waiting import wait_until
from tests.reviews.replies.rows import a_submission

WORDS = "Does the pause count as a rep?"
GONE = "The network is gone. What you typed is kept here and is sent when it is back."


@pytest.fixture
def reply(cast) -> str:
    submission = a_submission(cast.athlete)
    make_reply_in_words(cast, submission)
    return page_of(submission)


def ask_back(page: Page, words: str = WORDS) -> None:
    page.locator("summary", has_text="Ask back").click()
    page.get_by_label("What is not clear yet?").fill(words)
    page.locator(".ask-back").get_by_role("button", name="Send").click()


def test_words_asked_without_a_network_go_when_it_is_back(cast, open_page, reply: str) -> None:
    page = open_page(cast.athlete, width=390)
    page.goto(reply)
    page.context.set_offline(True)
    ask_back(page)
    expect(page.get_by_text(GONE)).to_be_visible()
    shot(page, "ask-back-offline-390")
    page.context.set_offline(False)
    expect(page.locator(".conversation")).to_contain_text(WORDS)
    assert list(Message.objects.values_list("text", flat=True)) == [WORDS]
    expect(page.get_by_label("What is not clear yet?")).to_have_value("")


def test_words_asked_without_a_network_outlive_the_page(cast, open_page, reply: str) -> None:
    """The page is closed before the network is back; the next page of ours brings them in."""
    page = open_page(cast.athlete, width=390)
    page.goto(reply)
    page.context.set_offline(True)
    ask_back(page)
    expect(page.get_by_text(GONE)).to_be_visible()
    page.goto("about:blank")
    page.context.set_offline(False)
    page.goto(reverse("athlete-home"))
    wait_until(page, "!Object.keys(localStorage).some((key) => key.startsWith('form:'))")
    page.goto(reply)
    expect(page.locator(".conversation")).to_contain_text(WORDS)
    assert Message.objects.count() == 1


def test_understood_without_a_network_is_said_when_it_is_back(cast, open_page, reply: str) -> None:
    page = open_page(cast.athlete, width=390)
    page.goto(reply)
    page.context.set_offline(True)
    page.get_by_role("button", name="Understood").click()
    expect(page.get_by_text(GONE.replace("What you typed", "Your answer"))).to_be_visible()
    page.context.set_offline(False)
    expect(page.get_by_text("You understood this on")).to_be_visible()
    assert ReplyVersion.objects.get().understood_at is not None


def test_an_answer_lost_on_the_way_does_not_ask_twice(cast, open_page, reply: str) -> None:
    def lose(route: Route) -> None:
        route.fetch()
        route.abort()

    page = open_page(cast.athlete, width=390)
    page.goto(reply)
    page.route("**/ask/", lose, times=1)
    ask_back(page)
    expect(page.locator(".conversation")).to_contain_text(WORDS)
    assert Message.objects.count() == 1


@pytest.mark.parametrize("case", FORMS, ids=lambda case: case.name)
def test_what_was_typed_outlives_a_reload(case: FormCase, cast, open_page) -> None:
    path = case.build(cast)
    page = open_page(getattr(cast, case.who))
    page.goto(path)
    type_into(page, case)
    page.reload()
    field = page.locator(case.field)
    expect(field).to_have_value(case.words)
    line = page.locator(".form-notice", has_text="is not sent yet")
    expect(line).to_be_visible()
    line.get_by_role("button", name="Drop it").click()
    expect(field).not_to_have_value(case.words)
    page.reload()
    expect(field).not_to_have_value(case.words)


def test_a_form_without_a_network_says_so_and_stays(cast, open_page) -> None:
    page = open_page(cast.coach)
    page.goto(reverse("library-add"))
    page.locator("#id_name").fill("Bar drifts forward")
    page.locator("#id_phase").select_option(index=1)
    page.context.set_offline(True)
    page.get_by_role("button", name="Save the entry").click()
    expect(page.locator(".form-notice")).to_have_text(
        "The network is gone. What you typed is kept here: press the button again when it is back."
    )
    shot(page, "library-offline-1440")
    page.context.set_offline(False)
    page.get_by_role("button", name="Save the entry").click()
    expect(page.get_by_role("heading", name="Bar drifts forward")).to_be_visible()
    assert Fault.objects.filter(name="Bar drifts forward").count() == 1
    page.goto(reverse("library-add"))
    expect(page.locator("#id_name")).to_have_value("")


def test_a_refused_form_shows_what_is_wrong_and_keeps_its_words(cast, open_page) -> None:
    page = open_page(cast.coach)
    page.goto(reverse("library-add"))
    page.locator("#id_see").fill("The bar leaves the thigh.")
    page.get_by_role("button", name="Save the entry").click()
    expect(page.get_by_text("It is not saved yet: look at what is marked below.")).to_be_visible()
    expect(page.locator("#id_see")).to_have_value("The bar leaves the thigh.")
    page.locator("#id_name").fill("Bar leaves the thigh")
    page.locator("#id_phase").select_option(index=1)
    page.get_by_role("button", name="Save the entry").click()
    expect(page.get_by_role("heading", name="Bar leaves the thigh")).to_be_visible()


def test_the_next_person_at_this_browser_meets_no_words(cast, open_page) -> None:
    page = open_page(cast.coach)
    page.goto(reverse("library-add"))
    page.locator("#id_name").fill("Bar drifts forward")
    page.context.clear_cookies()
    signed_in(page, cast.second_coach, page.url.split("/library")[0])
    page.goto(reverse("library-add"))
    expect(page.locator("#id_name")).to_have_value("")
    expect(page.locator(".form-notice")).to_have_count(1)
    expect(page.locator(".form-notice")).to_be_empty()


def test_a_session_that_ended_is_said_and_loses_nothing(cast, open_page, reply: str) -> None:
    page = open_page(cast.athlete, width=390)
    page.goto(reply)
    page.context.clear_cookies(name=settings.SESSION_COOKIE_NAME)
    ask_back(page)
    expect(page.get_by_text("You are signed out. What you typed is kept here")).to_be_visible()
    page.context.add_cookies([session_cookie(cast.athlete, page.url)])
    page.locator(".ask-back").get_by_role("button", name="Send").click()
    expect(page.locator(".conversation")).to_contain_text(WORDS)


def test_signing_out_says_what_is_not_sent_and_leaves_nothing(cast, open_page) -> None:
    page = open_page(cast.coach)
    page.goto(reverse("library-add"))
    page.locator("#id_name").fill("Bar drifts forward")
    page.goto(reverse("profile"))
    expect(page.get_by_text("A form holds words that are kept on this device")).to_be_visible()
    page.get_by_role("button", name="Sign out").click()
    page.wait_for_url("**/accounts/login/**")
    assert page.evaluate("localStorage.length") == 0
