"""The real server for upload tests, as bin/run starts it, on its own data.

Everything goes over HTTP, so that a test can cut, kill and restart it like a machine.
"""

import base64
import fcntl
import json
import os
import shutil
import signal
import socket
import subprocess
import sys
import time
from http.client import HTTPConnection, HTTPResponse
from pathlib import Path
from typing import Any

from tests import databases

ROOT = Path(__file__).resolve().parents[3]
TOKEN = "c" * 32  # a CSRF secret serves as its own token (django.middleware.csrf)
PEOPLE = """
import json
from django.contrib.sessions.backends.db import SessionStore
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.conf import settings
from athletes.models import Club, User
from reviews.intake.submitting import open_draft
club = Club.objects.create(name="Northgate Barbell")
said = {}
for name in ("mira", "joris"):
    user = User.objects.create_user(f"{name}@example.org", name=name, club=club)
    session = SessionStore()
    session[SESSION_KEY] = str(user.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
    session[HASH_SESSION_KEY] = user.get_session_auth_hash()
    session.create()
    said[name] = {"session": session.session_key, "draft": str(open_draft(athlete=user).pk)}
print(json.dumps(said))
"""


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Site:
    """One server. `people` maps a name to the session key and draft of an athlete."""

    def __init__(self, data: Path, **settings: Any) -> None:
        self.data = data
        self.port = free_port()
        own = {f"COACHDESK_{name.upper()}": str(value) for name, value in settings.items()}
        self.environment = {
            **os.environ,
            **own,
            "COACHDESK_DATA": str(data),
            "COACHDESK_STATIC_STORAGE": "django.contrib.staticfiles.storage.StaticFilesStorage",
            "COACHDESK_BROKER_URL": f"redis://127.0.0.1:{free_port()}/0",  # nobody listens there
            "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
        }
        self.people: dict[str, dict[str, str]] = {}
        self.clips: list[tuple[str, str]] = []
        self.process: subprocess.Popen[bytes] | None = None

    def manage(self, *words: str) -> str:
        command = [sys.executable, "manage.py", *words]
        done = subprocess.run(
            command, cwd=ROOT, env=self.environment, capture_output=True, text=True, timeout=120
        )
        assert done.returncode == 0, done.stderr
        return done.stdout

    def prepare(self) -> "Site":
        """Fill the data folder; once for all sites of a run, since it takes as long as a whole
        file of tests."""
        whole_run = self.data.parents["PYTEST_XDIST_WORKER" in os.environ]
        filled = whole_run / "filled-site"
        with (whole_run / "filled-site.lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not filled.exists():
                database = databases.own()
                self.environment |= database
                self.manage("migrate", "-v0")
                self.manage("collectstatic", "--noinput", "-v0")
                said = self.manage("shell", "-v0", "-c", PEOPLE).splitlines()[-1]
                (self.data / "people.json").write_text(said)
                (self.data / "database.json").write_text(json.dumps(database))
                shutil.copytree(self.data, filled)
        shutil.copytree(filled, self.data, dirs_exist_ok=True)
        self.people = json.loads((self.data / "people.json").read_text())
        like = json.loads((self.data / "database.json").read_text())
        self.environment |= databases.own(like=like)
        return self

    def start(self) -> "Site":
        command = [sys.executable, "-m", "coachdesk.server", "--port", str(self.port)]
        log = (self.data / "server.log").open("ab")
        self.process = subprocess.Popen(
            command, cwd=ROOT, env=self.environment, stderr=log, start_new_session=True
        )
        log.close()
        deadline = time.monotonic() + 30
        while time.monotonic() < deadline:
            try:
                if self.ask("GET", "/health/live").status == 200:
                    return self
            except OSError:
                time.sleep(0.1)
        raise AssertionError(f"no server: {(self.data / 'server.log').read_text()[-2000:]}")

    def end(self, how: int = signal.SIGKILL) -> None:
        """Stop the server and its worker. SIGKILL by default: as a power cut would."""
        if self.process is not None:
            os.killpg(self.process.pid, how)
            self.process.wait(timeout=20)
            self.process = None

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.port}"

    def signed_in(self, who: str) -> dict[str, str]:
        """The headers of a page of ours: the session's cookie, and the token a form would carry."""
        cookie = f"sessionid={self.people[who]['session']}; csrftoken={TOKEN}"
        return {"Cookie": cookie, "X-CSRFToken": TOKEN}

    def ask(
        self,
        method: str,
        path: str,
        headers: dict[str, str] | None = None,
        body: Any = None,
        **options: Any,
    ) -> HTTPResponse:
        """One raw request on a connection of its own; the answer's body is in `.text`."""
        connection = HTTPConnection("127.0.0.1", self.port, timeout=30)
        try:
            connection.request(method, path, body=body, headers=headers or {}, **options)
            response = connection.getresponse()
            response.text = response.read().decode()  # type: ignore[attr-defined]
            return response
        finally:
            connection.close()

    def json(self, method: str, path: str, who: str = "mira", body: Any = None) -> Any:
        headers = {**self.signed_in(who), "Content-Type": "application/json"}
        response = self.ask(method, path, headers, None if body is None else json.dumps(body))
        assert response.status < 300, response.text
        return json.loads(response.text) if response.text else None

    def clip(self, who: str = "mira") -> str:
        """The id of a new clip in this athlete's draft."""
        draft = self.people[who]["draft"]
        card = self.json("POST", f"/api/v1/submissions/{draft}/clips/", who)
        self.clips.append((who, card["url"]))
        return str(card["id"])

    def clear(self) -> None:
        """Take every clip out again: a draft holds a dozen."""
        for who, url in self.clips:
            self.json("DELETE", url, who)
        self.clips.clear()

    def card(self, clip: str) -> Any:
        return self.json("GET", f"/api/v1/clips/{clip}/")

    def original(self, upload: str) -> bytes:
        """The stored original of a finished upload, found by the upload's own name.

        It gets that name after the answer to the last byte, so there may be a moment to wait.
        """
        until = time.monotonic() + 10
        while time.monotonic() < until:
            name = f"{upload.rsplit('/', 1)[-1]}.*"
            for path in (self.data / "media" / "originals").rglob(name):
                return path.read_bytes()
            time.sleep(0.02)
        raise AssertionError(f"{upload} never became an original")


def metadata(clip: str, filename: str = "set.mp4") -> str:
    def code(text: str) -> str:
        return base64.b64encode(text.encode()).decode()

    return f"clip {code(clip)},filename {code(filename)}"
