"""`window` is an empty window of each engine in turn; an error in its console fails the test.

COACHDESK_ENGINES names the engines to run (bin/test sets it); without it all three, and one that
the machine does not have fails with a sentence.
"""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import ExitStack, closing
from pathlib import Path

import pytest

from tests.browser.engines.chromium import ChromiumWindow
from tests.browser.engines.firefox import Firefox
from tests.browser.engines.webkit import Screen, WebKitWindow
from tests.browser.engines.window import Window

ENGINES = os.environ.get("COACHDESK_ENGINES", "chromium firefox webkit").split()


def pytest_itemcollected(item: pytest.Item) -> None:
    """Tell apart what bin/test leaves to bin/test --whole."""
    engine = getattr(item, "callspec", None) and item.callspec.params.get("new_window")
    if engine in ("firefox", "webkit") and not item.get_closest_marker("short_walk"):
        item.add_marker("other_engine")


@pytest.fixture(scope="session", params=ENGINES)
def new_window(
    request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Callable[[], Window]]:
    """Makes windows of one engine, which is started once."""
    folder = tmp_path_factory.mktemp(request.param)
    with ExitStack() as open_until_the_end:
        if request.param == "chromium":
            browser = request.getfixturevalue("chromium")
            yield lambda: ChromiumWindow(browser)
        elif request.param == "firefox":
            firefox = Firefox(program("firefox-esr", "firefox"), folder)
            open_until_the_end.enter_context(closing(firefox))
            yield firefox.window
        else:
            program("Xvfb")
            driver = program("WebKitWebDriver")
            screen = open_until_the_end.enter_context(closing(Screen()))
            # Each has processes of its own, which a test that fails midway would leave behind.
            yield lambda: open_until_the_end.enter_context(
                closing(WebKitWindow(driver, screen, folder))
            )


def program(*names: str) -> str:
    found = next((path for name in names if (path := shutil.which(name))), None)
    if not found:
        pytest.fail(
            f"{names[0]} is missing. Install Debian's packages as bin/test --whole does, or name "
            "the engines to run: COACHDESK_ENGINES=chromium"
        )
    return str(found)


@pytest.fixture
def window(request: pytest.FixtureRequest, new_window: Callable[[], Window]) -> Iterator[Window]:
    opened = new_window()
    opened.resize(1440, 900)
    yield opened
    if folder := os.environ.get("COACHDESK_SHOTS"):
        opened.screenshot(Path(folder) / f"{request.node.name}.png")
    errors = list(opened.errors)
    opened.close()
    assert errors == []


@pytest.fixture
def site(window: Window, live_server) -> Window:
    """A window whose paths are those of a live server."""
    window.base = live_server.url
    return window
