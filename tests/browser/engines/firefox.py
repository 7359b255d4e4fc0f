"""Debian's Firefox ESR, driven over WebDriver BiDi (https://www.w3.org/TR/webdriver-bidi/).

We speak it ourselves: Debian has no geckodriver, and Playwright asks this Firefox for a command
that it does not know. One process serves all tests; each window has cookies and storage of its own.
"""

from __future__ import annotations

import base64
import itertools
import json
import re
import subprocess
import threading
from collections.abc import Sequence
from contextlib import ExitStack
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from websockets.sync.client import connect

from tests.browser.engines import actions
from tests.browser.engines.window import EngineError, Window

START_SECONDS = 60
ANSWER_SECONDS = 60
PREFERENCES = {
    "intl.accept_languages": "en-GB",
    "media.autoplay.default": 0,  # the tests' calls are not a person's presses
    "app.normandy.enabled": False,
    "browser.shell.checkDefaultBrowser": False,
    "datareporting.policy.dataSubmissionEnabled": False,
    "network.captive-portal-service.enabled": False,
    "network.connectivity-service.enabled": False,
}
# Firefox tells what its policy refused in no log that BiDi hears.
POLICY = """() => addEventListener("securitypolicyviolation", (event) =>
    console.error(`Content Security Policy: ${event.violatedDirective} ${event.blockedURI}`))"""


class Firefox:
    def __init__(self, program: str, folder: Path) -> None:
        profile = folder / "profile"
        profile.mkdir()
        lines = [f"user_pref({json.dumps(k)}, {json.dumps(v)});" for k, v in PREFERENCES.items()]
        (profile / "user.js").write_text("\n".join(lines))
        command = [program, "--headless", "--no-remote", "--profile", str(profile)]
        self._process = subprocess.Popen(
            [*command, "--remote-debugging-port=0"],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
        self._open = ExitStack()
        try:
            address = f"{self._address()}/session"
            self._socket = self._open.enter_context(connect(address, max_size=None))
            self._numbers = itertools.count(1)
            self._windows: dict[str, FirefoxWindow] = {}
            self.send("session.new", capabilities={})
            self.send("session.subscribe", events=["log.entryAdded"])
            self.send("script.addPreloadScript", functionDeclaration=POLICY)
        except BaseException:
            self._process.kill()
            raise

    def _address(self) -> str:
        """Where it listens: it says so on its error output, which is read to its end."""
        assert self._process.stderr
        found: list[str] = []
        there = threading.Event()

        def read(lines: Any) -> None:
            for line in lines:
                if match := re.search(r"WebDriver BiDi listening on (ws://\S+)", line):
                    found.append(match[1])
                    there.set()
            there.set()

        threading.Thread(target=read, args=[self._process.stderr], daemon=True).start()
        if not there.wait(START_SECONDS) or not found:
            raise EngineError("Firefox did not start to listen for WebDriver BiDi.")
        return found[0]

    def send(self, method: str, **params: Any) -> Any:
        """The answer to one command; what happens meanwhile goes to the window it happens in."""
        number = next(self._numbers)
        self._socket.send(json.dumps({"id": number, "method": method, "params": params}))
        while True:
            message = json.loads(self._socket.recv(timeout=ANSWER_SECONDS))
            if message.get("method") == "log.entryAdded":
                self._log(message["params"])
            elif message.get("id") == number:
                if message["type"] == "error":
                    raise EngineError(f"{method}: {message['message']}")
                return message["result"]

    def _log(self, entry: dict[str, Any]) -> None:
        window = self._windows.get(entry["source"].get("context", ""))
        if window and entry["level"] == "error":
            window.heard.append(str(entry["text"]))

    def window(self) -> FirefoxWindow:
        own = self.send("browser.createUserContext")["userContext"]
        context = self.send("browsingContext.create", type="tab", userContext=own)["context"]
        window = FirefoxWindow(self, context, own)
        self._windows[context] = window
        return window

    def close(self) -> None:
        try:
            self.send("browser.close")
            self._open.close()
            self._process.wait(10)
        finally:
            self._process.kill()
            self._process.wait()


class FirefoxWindow(Window):
    engine = "firefox"

    def __init__(self, firefox: Firefox, context: str, own: str) -> None:
        self._firefox, self._context, self._own = firefox, context, own
        self.heard: list[str] = []

    def _send(self, method: str, **params: Any) -> Any:
        return self._firefox.send(method, context=self._context, **params)

    def go(self, url: str) -> None:
        self._send("browsingContext.navigate", url=url, wait="complete")

    def evaluate(self, function: str, *args: Any) -> Any:
        given = ", ".join(json.dumps(arg) for arg in args)
        answer = self._firefox.send(
            "script.evaluate",
            expression=f"(async () => JSON.stringify(await ({function})({given})))()",
            target={"context": self._context},
            awaitPromise=True,
        )
        if answer["type"] == "exception":
            raise EngineError(answer["exceptionDetails"]["text"])
        text = answer["result"].get("value")  # nothing, where the function says nothing
        return None if text is None else json.loads(text)

    def _act(self, what: actions.Actions) -> None:
        self._send("input.performActions", actions=what)

    def press(self, keys: str) -> None:
        self._act(actions.chord(keys))

    def write(self, text: str) -> None:
        self._act(actions.typed(text))

    def click_at(self, x: int, y: int) -> None:
        self._act(actions.click(x, y))

    def choose_files(self, css: str, paths: Sequence[Path]) -> None:
        locator = {"type": "css", "value": css}
        [element] = self._send("browsingContext.locateNodes", locator=locator)["nodes"]
        names = [str(path) for path in paths]
        self._send("input.setFiles", element={"sharedId": element["sharedId"]}, files=names)

    def screenshot(self, path: Path) -> None:
        data = self._send("browsingContext.captureScreenshot")["data"]
        path.write_bytes(base64.b64decode(data))

    def resize(self, width: int, height: int) -> None:
        self._send("browsingContext.setViewport", viewport={"width": width, "height": height})

    def add_cookie(self, name: str, value: str) -> None:
        cookie = {
            "name": name,
            "value": {"type": "string", "value": value},
            "domain": urlsplit(self.base).hostname,
        }
        partition = {"type": "storageKey", "userContext": self._own}
        self._firefox.send("storage.setCookie", cookie=cookie, partition=partition)

    @property
    def errors(self) -> list[str]:
        self._firefox.send("session.status")  # what was said before this answer has come by then
        return self.heard

    def close(self) -> None:
        self._firefox.send("browser.removeUserContext", userContext=self._own)
