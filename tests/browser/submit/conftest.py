"""One server for the tests of submitting, and a phone on its page."""

import json
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page

from tests.browser.submit.phone import Network
from tests.reviews.intake.site import TOKEN, Site


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Iterator[Site]:
    site = Site(tmp_path_factory.mktemp("phone")).prepare().start()
    yield site
    site.end()


@pytest.fixture
def phone(chromium: Browser, site: Site) -> Iterator[Page]:
    """A phone on the submit page. Nothing may throw in it."""
    if site.process is None:
        site.start()
    context = chromium.new_context(
        base_url=site.url, viewport={"width": 390, "height": 844}, has_touch=True, locale="en-GB"
    )
    context.set_default_timeout(15_000)
    cookies = {"sessionid": site.people["mira"]["session"], "csrftoken": TOKEN}
    context.add_cookies([{"name": k, "value": v, "url": site.url} for k, v in cookies.items()])
    page = context.new_page()
    thrown: list[str] = []
    page.on("pageerror", lambda error: thrown.append(str(error)))
    page.on("dialog", lambda dialog: dialog.accept())
    page.goto("/submit/")
    empty(page, site)
    yield page
    context.close()
    assert not thrown, thrown


def empty(page: Page, site: Site) -> None:
    """Leave nothing of the test before in the draft."""
    draft = page.locator("submit-page").get_attribute("data-url")
    for card in json.loads(page.locator("#cards").text_content() or "[]"):
        site.json("DELETE", card["url"])
    site.json("PATCH", draft, body={"question": "", "tried": "", "pain": None})
    page.goto("/submit/")


@pytest.fixture
def network(phone: Page) -> Network:
    return Network(phone)
