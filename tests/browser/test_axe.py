"""Accessibility of every page: axe (axe-core, Deque) finds nothing, at two widths in two themes,
and every word can be read in forced colours.

axe checks part of WCAG 2.2 by machine; keyboard paths have tests of their own. The pages are those
of tests/browser/*/pages.py; `test_every_page_is_looked_at` holds them against the access table.
"""

import time
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Page, Request

from tests.browser.conftest import HEIGHTS, shot
from tests.browser.forced import unreadable
from tests.browser.pages import Look, every_look
from tests.browser.waiting import PATIENCE_SECONDS
from tests.conftest import Cast

# target-size (WCAG 2.2, 2.5.8) is off in axe unless asked for.
OPTIONS = {"resultTypes": ["violations"], "rules": {"target-size": {"enabled": True}}}
# A theme changes colours alone (tokens.css), and only these rules of axe look at them.
COLOURS = {"resultTypes": ["violations"], "runOnly": ["color-contrast", "link-in-text-block"]}
CHECKS = {"light": OPTIONS, "dark": COLOURS}
SILENCE_MS = 100
# axe works out each colour of each element anew, and takes a third of its time for our OKLCH ones.
REMEMBER_COLOURS = """() => {
  const { Color } = axe.commons.color, read = Color.prototype.parseString, known = new Map();
  Color.prototype.parseString = function (text) {
    if (!known.has(text)) {
      const { r, g, b, alpha } = read.call(new Color(), text);
      known.set(text, { r, g, b, alpha });
    }
    return Object.assign(this, known.get(text));
  };
}"""


class Asking:
    """What a page has asked for and not got yet: parts of a page fetch for themselves. Playwright's
    own "networkidle" is the same with half a second of silence, at every page."""

    def __init__(self, page: Page) -> None:
        self._page = page
        self._open: set[Request] = set()
        page.on("request", lambda asked: self._open.add(asked))
        page.on("requestfinished", lambda asked: self._open.discard(asked))
        page.on("requestfailed", lambda asked: self._open.discard(asked))

    def wait(self) -> None:
        """Until nothing is asked for, and nothing follows."""
        until = time.monotonic() + PATIENCE_SECONDS
        still = 0
        while still < 2:
            self._page.wait_for_timeout(SILENCE_MS / 2)
            still = 0 if self._open else still + 1
            if time.monotonic() > until:
                pytest.fail(f"{self._page.url} never got {[asked.url for asked in self._open]}")


def faults_of(page: Page, name: str, options: dict[str, Any]) -> list[str]:
    """What axe finds, and whether the page is wider than its window (WCAG 1.4.10, reflow)."""
    found = page.evaluate("options => axe.run(options).then(found => found.violations)", options)
    faults = [
        f"{name}: {fault['id']} at {node['target']}: {node['failureSummary']}"
        for fault in found
        for node in fault["nodes"]
    ]
    if page.evaluate("document.documentElement.scrollWidth > document.documentElement.clientWidth"):
        faults.append(f"{name}: scrolls sideways")
    return faults


@pytest.mark.parametrize("look", every_look(), ids=lambda look: look.name)
def test_axe_finds_nothing_and_forced_colours_lose_nothing(
    look: Look, cast: Cast, open_page
) -> None:
    path = look.build(cast)
    # Our policy forbids inline scripts; axe is one. Only this test may go around the policy.
    page = open_page(getattr(cast, look.who) if look.who else None, bypass_csp=True)
    asking = Asking(page)
    answer = page.goto(path)
    assert answer is not None
    assert answer.status == look.status, f"{path} answered {answer.status}"
    assert page.url.endswith(path), f"{path} led to {page.url}"
    asking.wait()
    page.evaluate(Axe().axe_script)  # once: reading its half megabyte takes longer than its work
    page.evaluate(REMEMBER_COLOURS)
    faults = []
    for width, height in HEIGHTS.items():
        for theme, options in CHECKS.items():
            page.set_viewport_size({"width": width, "height": height})
            page.emulate_media(color_scheme=theme)
            name = f"{look.name}-{width}-{theme}"
            shot(page, name)
            faults += faults_of(page, name, options)
    for width, height in HEIGHTS.items():  # last: on the way back colours fade for a moment
        page.set_viewport_size({"width": width, "height": height})
        faults += unreadable(page, f"{look.name}-{width}-forced")
    assert not faults, "\n".join(faults)
