"""The real server is killed under a review, as a power cut would, and comes back."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.player.test_workbench import press, saved
from tests.reviews.intake.site import Site

# The site has a database of its own; the browser fixture alone needs the tests' to be there.
pytestmark = pytest.mark.django_db
PATIENCE_MS = 30_000
WORDS = "Typed while the server was gone."
ASKED = """
import json
from django.test import Client
from django.urls import reverse
from athletes.models import Club, User
from tests.browser.player import factories
from tests.browser.player.pages import source
club = Club.objects.get()
coach = User.objects.create_user("coach@example.org", name="Vera", club=club, role="coach")
submission = factories.make_submission(User.objects.get(email="mira@example.org"))
factories.make_clip(submission, source("constant"))
client = Client()
client.force_login(coach)
session = client.cookies["sessionid"].value
print(json.dumps([reverse("workbench", args=[submission.pk]), session]))
"""
STORED = """
import json
from reviews.replies.models import Note, RepCall, Reply
notes = list(Note.objects.order_by("first_frame").values_list("first_frame", "text"))
calls = list(RepCall.objects.values_list("rep", "call"))
print(json.dumps([notes, calls, Reply.objects.get().opening]))
"""


@pytest.fixture
def site(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Site]:
    site = Site(tmp_path_factory.mktemp("server-gone")).prepare().start()
    yield site
    site.end()


@pytest.fixture
def page(chromium: Browser, site: Site) -> Iterator[Page]:
    path, session = said(site, ASKED)
    context = chromium.new_context(base_url=site.url, viewport={"width": 1440, "height": 900})
    context.set_default_timeout(PATIENCE_MS)
    context.add_cookies([{"name": "sessionid", "value": session, "url": site.url}])
    page = context.new_page()
    thrown: list[str] = []
    page.on("pageerror", lambda error: thrown.append(str(error)))
    page.goto(path)
    expect(page.locator("player-controls .at")).to_contain_text(" of ", timeout=PATIENCE_MS)
    yield page
    context.close()
    assert not thrown, thrown


def said(site: Site, script: str) -> list[Any]:
    return json.loads(site.manage("shell", "-v0", "-c", script).splitlines()[-1])


def test_a_server_killed_in_mid_review_loses_nothing(page: Page, site: Site) -> None:
    press(page, "Shift+ArrowRight", "n", "Escape", "w")
    page.keyboard.type("Typed before.")
    saved(page)
    site.end()  # SIGKILL, by process id
    press(page, "Escape", "Shift+ArrowRight", "n", "Escape", "w")
    page.keyboard.type(WORDS)
    press(page, "Escape")
    page.get_by_label("Opening words").fill("Three good pulls.")
    state = page.locator("save-state")
    expect(state).to_have_text(re.compile("^Kept here, "), timeout=PATIENCE_MS)
    expect(page.get_by_role("button", name=WORDS)).to_be_visible()
    site.start()
    expect(state).to_have_text(re.compile(r"^Saved \d\d:\d\d$"), timeout=2 * PATIENCE_MS)
    notes, _, opening = said(site, STORED)
    assert notes == [[10, "Typed before."], [20, WORDS]]
    assert opening == "Three good pulls."
    assert page.evaluate("() => localStorage.length") == 0, "nothing is owed any more"
