"""One window of a browser engine, and what a person does in it.

The three engines differ in how they are driven; a test does not see it. Elements are named by a CSS
selector and, where that fits several, by a piece of their text.
"""

from __future__ import annotations

import json
import time
from abc import ABC, abstractmethod
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest

from athletes.models import User

PATIENCE_SECONDS = 20

# The middle of an element that is seen and not covered; what stands in the way says so.
MIDDLE = """(css, text) => {
    const all = [...document.querySelectorAll(css)];
    const shown = all.find((one) => one.checkVisibility({ visibilityProperty: true })
        && (!text || one.textContent.includes(text) || one.ariaLabel?.includes(text)));
    if (!shown) return null;
    const visible = (top, bottom) => top >= 0 && bottom <= innerHeight;
    let box = shown.getBoundingClientRect();
    if (!visible(box.top, box.bottom))
        shown.scrollIntoView({ block: "center", behavior: "instant" });
    box = shown.getBoundingClientRect();
    const x = Math.round(box.left + box.width / 2), y = Math.round(box.top + box.height / 2);
    const hit = document.elementFromPoint(x, y);
    const takes = hit && (shown.contains(hit) || hit.contains(shown)
        || hit.closest("label")?.control === shown);
    return takes ? [x, y] : `covered by ${hit?.outerHTML.slice(0, 200)}`;
}"""


class EngineError(Exception):
    """The engine could not do what was asked, such as a script that threw."""


class Window(ABC):
    """What a test uses. `errors` are the console's errors, what was thrown or rejected and not
    caught, and what the content security policy refused."""

    engine: str
    base: str = ""  # the site's address, put before every path

    @abstractmethod
    def go(self, url: str) -> None:
        """Open an address and wait until it has loaded."""

    @abstractmethod
    def evaluate(self, function: str, *args: Any) -> Any:
        """The answer of a JavaScript function, awaited. Arguments and answer are JSON."""

    @abstractmethod
    def press(self, keys: str) -> None:
        """One key, or several held together: "ArrowRight", "Shift+ArrowRight", "a"."""

    @abstractmethod
    def write(self, text: str) -> None:
        """Type into what has the focus."""

    @abstractmethod
    def click_at(self, x: int, y: int) -> None: ...

    @abstractmethod
    def choose_files(self, css: str, paths: Sequence[Path]) -> None: ...

    @abstractmethod
    def screenshot(self, path: Path) -> None: ...

    @abstractmethod
    def resize(self, width: int, height: int) -> None: ...

    @abstractmethod
    def add_cookie(self, name: str, value: str) -> None: ...

    @property
    @abstractmethod
    def errors(self) -> list[str]: ...

    @abstractmethod
    def close(self) -> None: ...

    def open(self, path: str) -> None:
        self.go(self.base + path)

    def sign_in(self, user: User) -> None:
        from tests.browser.conftest import session_cookie

        cookie = session_cookie(user, self.base)
        self.add_cookie(cookie["name"], cookie["value"])

    def click(self, css: str, text: str = "") -> None:
        """As a person would: wait until it is there, bring it into view, press its middle."""
        until = time.monotonic() + PATIENCE_SECONDS
        while not isinstance(place := self._look(MIDDLE, css, text), list):
            if time.monotonic() > until:
                pytest.fail(f"{self.engine}: cannot click {css} {text!r}: {place or 'not there'}")
            time.sleep(0.05)
        self.click_at(*place)

    def wait_until(self, expression: str) -> Any:
        """What the expression says once it is true; fails when it never is."""
        until = time.monotonic() + PATIENCE_SECONDS
        while not (answer := self._look(f"() => {expression}")):
            if time.monotonic() > until:
                pytest.fail(f"{self.engine}: never came true: {expression}; errors {self.errors}")
            time.sleep(0.05)
        return answer

    def wait_for(self, css: str, text: str = "") -> None:
        """Until such an element is seen."""
        self.wait_until(
            f"""[...document.querySelectorAll({json.dumps(css)})].some((one) =>
                one.checkVisibility({{ visibilityProperty: true }})
                && one.textContent.includes({json.dumps(text)}))"""
        )

    def _look(self, function: str, *args: Any) -> Any:
        """What a function of the page says; nothing while one page gives way to the next."""
        try:
            return self.evaluate(function, *args)
        except EngineError as error:
            return f"{error}" if function == MIDDLE else None
