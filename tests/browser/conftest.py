"""Browser tests: a live server, one Chromium, and people who are already signed in.

`open_page(user, width=390, theme="dark")` gives a Playwright page of its own context;
`live_server.url` is the site, on this machine only. A page that throws, or that breaks our content
security policy, fails its test. With COACHDESK_SHOTS=folder set, `shot(page, name)` keeps pictures.
"""

import fcntl
import os
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from allauth.account.internal.flows.login import (
    _AUTHENTICATION_METHODS_USER_SESSION_KEY as AUTHENTICATED_USER_KEY,
)
from allauth.account.internal.flows.login import (
    AUTHENTICATION_METHODS_SESSION_KEY as AUTHENTICATIONS_KEY,
)
from django.conf import settings
from django.core.management import call_command
from django.test import Client, override_settings
from django.test.testcases import _StaticFilesHandler
from playwright.sync_api import Browser, ConsoleMessage, Page, sync_playwright
from pytest_django.live_server_helper import LiveServer

from athletes.models import User
from coachdesk.benchmarks.chromium import FLAGS, chromium_path
from tests.conftest import remember

# Playwright's sync API keeps an event loop running in this thread; Django would refuse the ORM.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

HEIGHTS = {390: 844, 1440: 900}
PATIENCE_MS = 10_000


AS_SERVED = {"staticfiles": {"BACKEND": "coachdesk.staticfiles.HashedStaticStorage"}}


@pytest.fixture(scope="session")
def collected(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The static files as a site serves them, under hashed names and in bundles; collected once for
    all processes of a run."""
    own = tmp_path_factory.getbasetemp()
    run = own.parent if "PYTEST_XDIST_WORKER" in os.environ else own
    folder = run / "collected"
    with (run / "collected.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (folder / "staticfiles.json").exists():
            with override_settings(STATIC_ROOT=folder, STORAGES=settings.STORAGES | AS_SERVED):
                call_command("collectstatic", interactive=False, verbosity=0)
    return folder


@pytest.fixture(autouse=True)
def _as_served(_own_folders: None, settings: Any, collected: Path) -> None:
    settings.STATIC_ROOT = collected
    settings.STORAGES = settings.STORAGES | AS_SERVED


@pytest.fixture(scope="session")
def live_server(django_test_environment: None) -> Iterator[LiveServer]:
    """pytest-django's own, with the static files that were collected."""
    server = LiveServer("localhost", start=False)
    server.thread.static_handler = _StaticFilesHandler
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="session")
def chromium(django_db_setup: str) -> Iterator[Browser]:
    with sync_playwright() as playwright:
        remember(django_db_setup)
        browser = playwright.chromium.launch(
            executable_path=chromium_path(), headless=True, args=FLAGS
        )
        yield browser
        browser.close()


def session_cookie(user: User, url: str) -> dict[str, Any]:
    """A signed-in session, made without the sign-in page, as if the password was just typed."""
    client = Client()
    client.force_login(user)
    session = client.session
    session[AUTHENTICATED_USER_KEY] = str(user.pk)
    session[AUTHENTICATIONS_KEY] = [
        {"method": "password", "at": time.time(), "reauthenticated": True}
    ]
    session.save()
    value = client.cookies[settings.SESSION_COOKIE_NAME].value
    return {"name": settings.SESSION_COOKIE_NAME, "value": value, "url": url}


def signed_in(page: Page, user: User, url: str) -> Page:
    """Sign this page's whole context in as `user` at `url`."""
    page.context.add_cookies([session_cookie(user, url)])
    return page


OpenPage = Callable[..., Page]


@pytest.fixture
def open_page(chromium: Browser, live_server) -> Iterator[OpenPage]:
    """open_page(user=None, *, width=1440, theme="light", **context options) -> Page."""
    contexts, troubles = [], []

    def listen(message: ConsoleMessage) -> None:
        if "Content Security Policy" in message.text:
            troubles.append(message.text)

    def opened(
        user: User | None = None, *, width: int = 1440, theme: str = "light", **options: Any
    ) -> Page:
        context = chromium.new_context(
            base_url=live_server.url,
            viewport={"width": width, "height": HEIGHTS.get(width, 900)},
            color_scheme=theme,
            locale="en-GB",
            **options,
        )
        context.set_default_timeout(PATIENCE_MS)
        contexts.append(context)
        page = context.new_page()
        page.on("pageerror", lambda error: troubles.append(f"{page.url}: {error}"))
        page.on("console", listen)
        return signed_in(page, user, live_server.url) if user else page

    yield opened
    for context in contexts:
        context.close()
    assert not troubles, troubles


def shot(page: Page, name: str) -> None:
    """Keep a picture of the whole page when COACHDESK_SHOTS names a folder."""
    folder = os.environ.get("COACHDESK_SHOTS")
    if folder:
        page.screenshot(path=Path(folder) / f"{name}.png", full_page=True)
