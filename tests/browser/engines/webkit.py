"""WebKitGTK, driven by Debian's WebKitWebDriver (https://www.w3.org/TR/webdriver2/) under Xvfb.

A test's window is a process of its own with an empty folder: WebDriver knows no other way to begin
without cookies and storage.
"""

from __future__ import annotations

import base64
import json
import os
import re
import socket
import subprocess
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import httpx

from tests.browser.engines import actions
from tests.browser.engines.window import EngineError, Window

START_SECONDS = 60
ANSWER_SECONDS = 60
SCREEN = "1600x1200x24"
WINDOW = Path(__file__).with_name("webkit_window.py")
ELEMENT = "element-6066-11e4-a52e-4f735466cecf"  # the key that the standard gives an element
# This build installs no pages, so it does not know the policy's word for them; the others do.
NO_MANIFESTS = (
    "CONSOLE SECURITY ERROR Unrecognized Content-Security-Policy directive 'manifest-src'."
)
SCRIPT = """const done = arguments[arguments.length - 1];
(async () => JSON.stringify(await (FUNCTION)(...arguments[0])) ?? null)()
    .then((answer) => done({ answer }), (error) => done({ error: String(error) }));"""


class Screen:
    """An X server of our own, without a screen."""

    def __init__(self) -> None:
        read, write = os.pipe()
        self._process = subprocess.Popen(
            ["Xvfb", "-displayfd", str(write), "-screen", "0", SCREEN, "-nolisten", "tcp"],
            pass_fds=[write],
            stderr=subprocess.DEVNULL,
        )
        os.close(write)
        with os.fdopen(read) as number:
            self.display = f":{number.readline().strip()}"
        if self.display == ":":
            raise EngineError("Xvfb did not start.")

    def close(self) -> None:
        self._process.kill()
        self._process.wait()


class WebKitWindow(Window):
    engine = "webkit"

    def __init__(self, driver: str, screen: Screen, folder: Path) -> None:
        own = Path(tempfile.mkdtemp(dir=folder))
        self._said = own / "said"
        port = free_port()
        environment = {
            **os.environ,
            "DISPLAY": screen.display,
            "GDK_BACKEND": "x11",
            "COACHDESK_WINDOW_FOLDER": str(own),
        }
        with self._said.open("wb") as out:
            self._process = subprocess.Popen(
                [driver, f"--port={port}", "--host=127.0.0.1"],
                env=environment,
                stdout=out,
                stderr=subprocess.STDOUT,
            )
        self._http = httpx.Client(base_url=f"http://127.0.0.1:{port}", timeout=ANSWER_SECONDS)
        try:
            self._wait_until_it_listens()
            options = {"webkitgtk:browserOptions": {"binary": str(WINDOW), "args": []}}
            asked = {"capabilities": {"alwaysMatch": options}}
            self._session = f"/session/{self._call('POST', '/session', asked)['sessionId']}"
        except BaseException:
            self._process.kill()
            raise

    def _wait_until_it_listens(self) -> None:
        until = time.monotonic() + START_SECONDS
        while True:
            try:
                self._call("GET", "/status")
                return
            except httpx.TransportError as error:
                if time.monotonic() > until or self._process.poll() is not None:
                    raise EngineError("WebKitWebDriver did not start.") from error
                time.sleep(0.05)

    def _call(self, method: str, path: str, body: dict[str, Any] | None = None) -> Any:
        value = self._http.request(method, path, json=body).json()["value"]
        if isinstance(value, dict) and "error" in value and "stacktrace" in value:
            raise EngineError(f"{path}: {value['error']}: {value['message']}")
        return value

    def _post(self, path: str, **body: Any) -> Any:
        return self._call("POST", f"{self._session}{path}", body)

    def go(self, url: str) -> None:
        self._post("/url", url=url)

    def evaluate(self, function: str, *args: Any) -> Any:
        script = SCRIPT.replace("FUNCTION", function)
        answer = self._post("/execute/async", script=script, args=[list(args)])
        if "error" in answer:
            raise EngineError(answer["error"])
        return None if answer["answer"] is None else json.loads(answer["answer"])

    def press(self, keys: str) -> None:
        self._post("/actions", actions=actions.chord(keys))

    def write(self, text: str) -> None:
        self._post("/actions", actions=actions.typed(text))

    def click_at(self, x: int, y: int) -> None:
        self._post("/actions", actions=actions.click(x, y))

    def choose_files(self, css: str, paths: Sequence[Path]) -> None:
        element = self._post("/element", using="css selector", value=css)[ELEMENT]
        self._post(f"/element/{element}/value", text="\n".join(str(path) for path in paths))

    def screenshot(self, path: Path) -> None:
        path.write_bytes(base64.b64decode(self._call("GET", f"{self._session}/screenshot")))

    def resize(self, width: int, height: int) -> None:
        self._post("/window/rect", x=0, y=0, width=width, height=height)

    def add_cookie(self, name: str, value: str) -> None:
        """WebDriver takes a cookie only for the site that is open."""
        if not self.evaluate("() => location.href").startswith(self.base):
            self.open("/accounts/login/")
        self._post("/cookie", cookie={"name": name, "value": value, "path": "/"})

    @property
    def errors(self) -> list[str]:
        """But for what WebKit says of a request to the page's own site that leaving the page cut
        off: rules about other origins cannot refuse one."""
        said = self._said.read_text(errors="replace").replace(NO_MANIFESTS, "")
        cut_off = rf"Fetch API cannot load {re.escape(self.base)}/\S* due to access control checks"
        lines = re.findall(r"CONSOLE .*ERROR.*", said)
        return [line for line in lines if not re.search(cut_off, line)]

    def close(self) -> None:
        """Once or again: a test closes its own, and the engine at its end what a test left."""
        if self._http.is_closed:
            return
        try:
            self._call("DELETE", self._session)
        finally:
            self._http.close()
            self._process.terminate()
            self._process.wait()


def free_port() -> int:
    with socket.socket() as one:
        one.bind(("127.0.0.1", 0))
        return int(one.getsockname()[1])
