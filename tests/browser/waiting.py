"""Waiting for a page without asking it to evaluate text, which its content security policy bars.

Playwright's own wait_for_function evaluates a string inside the page as soon as the first look
fails; `evaluate` goes through the debugger, which no policy binds.
"""

import time
from typing import Any

import pytest
from playwright.sync_api import Page

PATIENCE_SECONDS = 20


def wait_until(page: Page, expression: str, arg: Any = None) -> Any:
    """What ``expression`` (an expression, or a function of ``arg``) says once it is true; fails
    when it never is."""
    until = time.monotonic() + PATIENCE_SECONDS
    while not (said := page.evaluate(expression, arg)):
        if time.monotonic() > until:
            pytest.fail(f"never came true within {PATIENCE_SECONDS} s: {expression}")
        page.wait_for_timeout(50)
    return said
