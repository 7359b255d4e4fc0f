"""A window of Chromium, driven by Playwright like all our other browser tests."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, ConsoleMessage, Error

from tests.browser.engines.window import EngineError, Window


class ChromiumWindow(Window):
    engine = "chromium"

    def __init__(self, browser: Browser) -> None:
        self._context = browser.new_context(locale="en-GB")
        self._page = self._context.new_page()
        self._errors: list[str] = []
        self._page.on("pageerror", lambda error: self._errors.append(str(error)))
        self._page.on("console", self._listen)

    def _listen(self, message: ConsoleMessage) -> None:
        if message.type == "error":
            self._errors.append(message.text)

    def go(self, url: str) -> None:
        self._page.goto(url)

    def evaluate(self, function: str, *args: Any) -> Any:
        try:
            return self._page.evaluate(f"(args) => ({function})(...args)", list(args))
        except Error as error:
            raise EngineError(str(error)) from error

    def press(self, keys: str) -> None:
        self._page.keyboard.press(keys)

    def write(self, text: str) -> None:
        self._page.keyboard.type(text)

    def click_at(self, x: int, y: int) -> None:
        self._page.mouse.click(x, y)

    def choose_files(self, css: str, paths: Sequence[Path]) -> None:
        self._page.set_input_files(css, list(paths))

    def screenshot(self, path: Path) -> None:
        self._page.screenshot(path=path)

    def resize(self, width: int, height: int) -> None:
        self._page.set_viewport_size({"width": width, "height": height})

    def add_cookie(self, name: str, value: str) -> None:
        self._context.add_cookies([{"name": name, "value": value, "url": self.base}])

    @property
    def errors(self) -> list[str]:
        self._page.evaluate("0")  # what the page said before this answer has come by then
        return self._errors

    def close(self) -> None:
        self._context.close()
