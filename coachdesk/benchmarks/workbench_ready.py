"""How soon a coach can step: the workbench against a bare video element on the same server.

The work runs in a process of its own (`python -m coachdesk.benchmarks.workbench_ready`) over a data
folder that goes away with it: real web server, hashed static files, real Chromium, an empty cache
each time.
"""

import json
import os
import signal
import socket
import statistics
import subprocess
import sys
import time
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from playwright.sync_api import Browser, sync_playwright

from coachdesk.benchmarks.chromium import FLAGS, chromium_path
from coachdesk.benchmarks.figures import Row
from coachdesk.common.paths import CHECKOUT, DATA
from coachdesk.demo.drawing import ClipSpec, draw_clip

RUNS = 25
SET = ClipSpec(size=(720, 1280), seconds=6.0, reps=2)
# Told by the page itself, in milliseconds since it began to load.
WATCH = """
window.told = {};
for (const [name, event] of [["able", "ready"], ["picture", "loadeddata"]])
  told[name] = new Promise((tell) => {
    document.addEventListener(event, () => tell(performance.now()), { capture: true, once: true });
    setTimeout(() => tell(null), 30_000);
  });
"""


def rows() -> list[Row]:
    with TemporaryDirectory(prefix="bench-ready-") as data:
        environment = {
            **os.environ,
            "COACHDESK_DATA": data,
            "COACHDESK_DATABASE_URL": f"sqlite:///{data}/bench.sqlite3",
            "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
            "COACHDESK_LOG": "ERROR",
        }
        command = [sys.executable, "-m", "coachdesk.benchmarks.workbench_ready"]
        done = subprocess.run(
            command, env=environment, cwd=CHECKOUT, stdout=subprocess.PIPE, check=True
        )
    ratio, ours, theirs = json.loads(done.stdout.splitlines()[-1])
    against = f"a bare video's first picture, {theirs:.0f} ms; able to step after {ours:.0f} ms"
    return [Row(name="workbench.ready", value=ratio, unit="ratio", against=against, runs=RUNS)]


def _measure() -> tuple[float, float, float]:
    page, video, cookie = _stand()
    bare = _bare_page(video)
    with _serving() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium_path(), args=FLAGS)
        visit = _Visit(browser, address, cookie)
        visit.time(page, "able")  # the server has read everything once
        pairs = [(visit.time(page, "able"), visit.time(bare, "picture")) for _ in range(RUNS)]
        browser.close()
    ours, theirs = (statistics.median(side) for side in zip(*pairs, strict=True))
    return round(statistics.median(a / b for a, b in pairs), 4), ours, theirs


class _Visit:
    """One page in a context of its own: nothing is in the cache."""

    def __init__(self, browser: Browser, address: str, cookie: str) -> None:
        self._browser, self._address, self._cookie = browser, address, cookie

    def time(self, path: str, what: str) -> float:
        """Milliseconds until the page says ``what``: "able" or "picture"."""
        context = self._browser.new_context(viewport={"width": 1440, "height": 900})
        cookie = {"name": "sessionid", "value": self._cookie, "url": self._address}
        context.add_cookies([cookie])  # type: ignore[list-item]
        page = context.new_page()
        page.add_init_script(WATCH)
        page.goto(f"{self._address}{path}", wait_until="commit")
        found = page.evaluate("what => told[what]", what)
        context.close()
        if found is None:
            raise AssertionError(f"{path} was not ready in 30 s")
        return float(found)


def _bare_page(video: str) -> str:
    """A page that holds the video and nothing else, from the same server."""
    body = f'<!doctype html><video muted preload="auto" src="{video}"></video>'
    (Path(DATA) / "static" / "bare.html").write_text(body)
    return "/static/bare.html"


@contextmanager
def _serving() -> Iterator[str]:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        port = probe.getsockname()[1]
    process = subprocess.Popen(
        [sys.executable, "-m", "coachdesk.server", "--port", str(port)],
        stdin=subprocess.DEVNULL,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )
    address = f"http://127.0.0.1:{port}"
    try:
        _wait(address)
        yield address
    finally:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()


def _wait(address: str) -> None:
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            urllib.request.urlopen(f"{address}/health/live", timeout=2).close()
        except (urllib.error.URLError, OSError):
            time.sleep(0.1)
        else:
            return
    raise AssertionError("the server did not start")


def _stand() -> tuple[str, str, str]:
    """A claimed submission with one clip; the page, the clip's address, a coach's session."""
    from django.core.files.base import ContentFile
    from django.core.files.storage import default_storage
    from django.test import Client
    from django.urls import reverse
    from django.utils import timezone

    from athletes.models import Club, User
    from programming.models import Movement
    from reviews.desk.claiming import claim
    from reviews.intake import jobs, making
    from reviews.intake.clip_data import clip_data
    from reviews.intake.models import Clip, Submission

    club = Club.objects.create(name="Bench")
    people: list[Any] = [
        User.objects.create_user(f"{role}@example.org", name=role, club=club, role=role)
        for role in ("athlete", "coach")
    ]
    submission = Submission.objects.create(
        club=club, athlete=people[0], state="waiting", sent_at=timezone.now(), question="Why?"
    )
    content = draw_clip(SET, Path(DATA) / "drawn").video.read_bytes()
    clip = Clip.objects.create(
        submission=submission,
        movement=Movement.objects.get(name="Low-bar squat"),
        reps=2,
        original=default_storage.save("originals/set.mp4", ContentFile(content)),
        sha256=sha256(content).hexdigest(),
        size=len(content),
    )
    making.attempt(jobs.enqueue(clip).pk)
    claim(submission=submission, coach=people[1])
    client = Client()
    client.force_login(people[1])
    video = clip_data(Clip.objects.get(pk=clip.pk), people[1])["playable"]
    page = reverse("workbench", args=[submission.pk])
    return page, video, client.cookies["sessionid"].value


def _main() -> None:
    import django
    from django.core.management import call_command

    django.setup()
    call_command("migrate", verbosity=0)
    call_command("collectstatic", interactive=False, verbosity=0)
    print(json.dumps(_measure()))


if __name__ == "__main__":
    _main()
