"""What slow clients cost everybody else: pages while they hold the server, and after they left.

The same pages of the web part of bin/run, in turns without and with 256 connections of each kind
(`holding.py`), which run in a process of their own. While they hold, /health/live is asked, too:
a server that stops answering has no figure, and the run fails.
"""

import json
import os
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path

from coachdesk.benchmarks.figures import Row
from coachdesk.benchmarks.held_connections import STAGE, Scene, held
from coachdesk.benchmarks.upload_rate import free_port, wait_for
from coachdesk.common.paths import CHECKOUT
from coachdesk.runner.parts import web

ROUNDS = 4
PAGES = 50  # each of two, in every turn of a round
EACH = 256
IN_A_ROW = 10  # answers as fast as before make a recovered server
PATIENCE = 30.0


def rows() -> list[Row]:
    with tempfile.TemporaryDirectory(prefix="coachdesk-slow-") as name:
        folder = Path(name)
        with _serving(folder) as scene:
            ask = _asking(scene)
            for _ in range(PAGES):
                ask()
            quiet: list[float] = []
            slow: list[float] = []
            recovery = []
            for _ in range(ROUNDS):
                quiet += [ask() for _ in range(PAGES)]
                with held(scene, EACH, folder):
                    slow += [ask() for _ in range(PAGES)]
                recovery.append(_recovered(ask, 2 * _p95(quiet)))
    against = f"the same without, {_p95(quiet) * 1000:.0f} ms: at most 2"
    recovered = f"{IN_A_ROW} pages in a row as fast again: at most 30"
    return [
        Row(name="slow.pages", value=round(_p95(slow) / _p95(quiet), 4), unit="ratio",
            against=against, runs=ROUNDS * PAGES),
        Row(name="slow.recovery_s", value=round(max(recovery), 3), unit="s",
            against=recovered, runs=ROUNDS),
    ]  # fmt: skip


def _p95(times: list[float]) -> float:
    return statistics.quantiles(times, n=20)[-1]


def _asking(scene: Scene) -> Callable[[], float]:
    """Seconds for the sign-in page and the desk together, and a look at /health/live."""
    coach = scene.headers("coach")

    def ask() -> float:
        _get(scene.port, "/health/live", {})
        start = time.perf_counter()
        _get(scene.port, "/accounts/login/", {})
        _get(scene.port, "/desk/", coach)
        return time.perf_counter() - start

    return ask


def _get(port: int, path: str, headers: dict[str, str]) -> None:
    connection = HTTPConnection("127.0.0.1", port, timeout=PATIENCE)
    try:
        connection.request("GET", path, headers=headers)
        answer = connection.getresponse()
        answer.read()
    finally:
        connection.close()
    if answer.status != 200:
        raise RuntimeError(f"{path}: {answer.status}")


def _recovered(ask: Callable[[], float], fast: float) -> float:
    """Seconds until pages come as fast as before, several in a row."""
    start = time.monotonic()
    row = 0
    while row < IN_A_ROW:
        row = row + 1 if ask() <= fast else 0
        if time.monotonic() - start > 10 * PATIENCE:
            raise RuntimeError("The server did not recover.")
    return time.monotonic() - start


@contextmanager
def _serving(data: Path) -> Iterator[Scene]:
    environment = {
        **os.environ,
        "COACHDESK_DATA": str(data),
        "COACHDESK_DATABASE_URL": f"sqlite:///{data}/bench.sqlite3",
        "COACHDESK_BROKER_URL": f"redis://127.0.0.1:{free_port()}/0",
        "COACHDESK_STATIC_STORAGE": "django.contrib.staticfiles.storage.StaticFilesStorage",
        "COACHDESK_LOG": "ERROR",
        "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
        "PYTHONPATH": str(CHECKOUT),
    }

    def manage(*words: str) -> str:
        command = [sys.executable, "manage.py", *words]
        return subprocess.run(
            command, cwd=CHECKOUT, env=environment, check=True, stdout=subprocess.PIPE, text=True
        ).stdout

    manage("migrate", "-v0")
    stage = json.loads(manage("shell", "-v0", "-c", STAGE).splitlines()[-1])
    port = free_port()
    child = web("127.0.0.1", port)
    child.start(log=data / "web.log", environment=environment)
    try:
        wait_for(port)
        yield Scene(port=port, **stage)
    finally:
        child.end()
        child.wait_or_kill(time.monotonic() + 10)
