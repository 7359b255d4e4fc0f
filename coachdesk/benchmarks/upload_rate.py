"""How fast an upload is stored, and what it costs the server in memory.

Ours is a PATCH through our server, Django and the sign-in, until the answer says that the bytes are
safe. Theirs is the least that stores the same bytes as safely: a bare socket, written to disk and
fsynced. Hashing and moving the file follow the answer, and are waited for before theirs begins.
Each writes a new file that is removed afterwards: memory that a machine has not touched yet costs
more than the work itself, and must not fall to one side.
"""

import base64
import json
import os
import re
import signal
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from http.client import HTTPConnection, HTTPMessage
from pathlib import Path
from typing import Any

from coachdesk.benchmarks.figures import Row, seconds
from coachdesk.common.paths import CHECKOUT
from coachdesk.runner.children import Child
from coachdesk.runner.parts import web

RUNS = 9
RATE_BYTES = 256 * 1024**2
MEMORY_BYTES = 1024**3
PIECE = bytes(os.urandom(1024**2))
TOKEN = "c" * 32  # a CSRF secret serves as its own token
PREPARE = """
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from athletes.models import Club, User
from reviews.intake.submitting import open_draft
club = Club.objects.create(name="Bench")
user = User.objects.create_user("bench@example.org", name="Bench", club=club)
session = SessionStore()
session.update({SESSION_KEY: str(user.pk), HASH_SESSION_KEY: user.get_session_auth_hash()})
session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
session.create()
print(session.session_key, open_draft(athlete=user).pk)
"""
# The bare writer: one connection, a length in eight bytes, then the bytes; one byte back when safe.
BARE = """
import os, socket, sys
listener = socket.create_server(("127.0.0.1", int(sys.argv[1])))
buffer = memoryview(bytearray(1024 * 1024))
while True:
    connection, _ = listener.accept()
    left = int.from_bytes(connection.recv(8, socket.MSG_WAITALL))
    with open(sys.argv[2], "wb", buffering=0) as file:
        while left:
            count = connection.recv_into(buffer, min(left, len(buffer)))
            if not count:
                break
            file.write(buffer[:count])
            left -= count
        os.fsync(file.fileno())
    connection.sendall(b".")
    connection.close()
"""


@dataclass
class Ours:
    """Our server on data of its own, and one athlete's session."""

    port: int
    draft: str
    headers: dict[str, str]
    worker: int

    def ask(self, method: str, path: str, headers: dict[str, str]) -> tuple[HTTPMessage, bytes]:
        connection = HTTPConnection("127.0.0.1", self.port, timeout=300)
        connection.request(method, path, headers={**self.headers, **headers})
        response = connection.getresponse()
        body = response.read()
        connection.close()
        if response.status >= 300:
            raise RuntimeError(f"{method} {path}: {response.status} {body.decode()}")
        return response.headers, body

    @contextmanager
    def place(self, length: int) -> Iterator[str]:
        """The address of a new upload, for a clip that is removed with its file at the end."""
        clips = f"/api/v1/submissions/{self.draft}/clips/"
        card = json.loads(self.ask("POST", clips, {"Content-Length": "0"})[1])
        told = base64.b64encode(card["id"].encode()).decode()
        wanted = {"Upload-Length": str(length), "Upload-Metadata": f"clip {told}"}
        place = self.ask("POST", "/uploads/", {**wanted, "Content-Length": "0"})[0]["Location"]
        yield place
        self.ask("HEAD", place, {})  # does the handing over, or waits for whoever does
        self.ask("DELETE", card["url"], {})

    def send(self, place: str, length: int) -> None:
        lines = {"Host": f"127.0.0.1:{self.port}", "Content-Length": str(length)}
        lines |= {"Content-Type": "application/offset+octet-stream", "Upload-Offset": "0"}
        lines |= {**self.headers, "Connection": "close"}
        head = "".join(f"{name}: {value}\r\n" for name, value in lines.items())
        with socket.create_connection(("127.0.0.1", self.port)) as connection:
            connection.sendall(f"PATCH {place} HTTP/1.1\r\n{head}\r\n".encode())
            pour(connection, length)
            answer = connection.recv(4096)
        if b" 204 " not in answer.split(b"\r\n", 1)[0]:
            raise RuntimeError(answer.decode(errors="replace"))

    def memory(self, what: str) -> float:
        """A figure of the worker's own in MiB: VmRSS, now, or VmHWM, the most it ever had."""
        status = Path(f"/proc/{self.worker}/status").read_text()
        found = re.search(rf"{what}:\s+(\d+) kB", status)
        if found is None:
            raise RuntimeError(f"no {what} of process {self.worker}")
        return int(found[1]) / 1024


def pour(connection: socket.socket, length: int) -> None:
    for at in range(0, length, len(PIECE)):
        connection.sendall(PIECE[: length - at])


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def wait_for(port: int) -> None:
    until = time.monotonic() + 30
    while time.monotonic() < until:
        try:
            socket.create_connection(("127.0.0.1", port), timeout=1).close()
        except OSError:
            time.sleep(0.1)
        else:
            return
    raise RuntimeError(f"nothing listens on {port}")


@contextmanager
def our_server(data: Path) -> Iterator[Ours]:
    """The web part of bin/run, with a broker that is away: the rows wait, the page does not."""
    environment = {
        **os.environ,
        "COACHDESK_DATA": str(data),
        "COACHDESK_BROKER_URL": f"redis://127.0.0.1:{free_port()}/0",
        "COACHDESK_STATIC_STORAGE": "django.contrib.staticfiles.storage.StaticFilesStorage",
        "COACHDESK_LOG": "ERROR",
    }

    def manage(*words: str) -> str:
        command = [sys.executable, "manage.py", *words]
        return subprocess.run(
            command, cwd=CHECKOUT, env=environment, check=True, capture_output=True, text=True
        ).stdout

    manage("migrate", "-v0")
    session, draft = manage("shell", "-v0", "-c", PREPARE).split()[-2:]
    port = free_port()
    child: Child = web("127.0.0.1", port)
    child.start(log=data / "web.log", environment={**environment, "PYTHONPATH": str(CHECKOUT)})
    try:
        wait_for(port)
        headers = {"Cookie": f"sessionid={session}; csrftoken={TOKEN}", "X-CSRFToken": TOKEN}
        assert child.process is not None
        yield Ours(port, draft, {**headers, "Tus-Resumable": "1.0.0"}, child.process.pid)
    finally:
        child.end()
        child.wait_or_kill(time.monotonic() + 10)


@contextmanager
def bare_server(file: Path) -> Iterator[int]:
    port = free_port()
    process = subprocess.Popen([sys.executable, "-c", BARE, str(port), str(file)])
    try:
        time.sleep(0.5)
        yield port
    finally:
        process.send_signal(signal.SIGKILL)
        process.wait()


def send_bare(port: int, length: int) -> None:
    with socket.create_connection(("127.0.0.1", port)) as connection:
        connection.sendall(length.to_bytes(8))
        pour(connection, length)
        if connection.recv(1) != b".":
            raise RuntimeError("the bare writer went away")


def ratio(ours: Ours, bare: int, bare_file: Path) -> float:
    """Their time over ours for the same bytes, one after the other."""
    with ours.place(RATE_BYTES) as place:
        our_time = seconds(lambda: ours.send(place, RATE_BYTES))
    their_time = seconds(lambda: send_bare(bare, RATE_BYTES))
    bare_file.unlink()
    return their_time / our_time


def rows() -> list[Row]:
    with tempfile.TemporaryDirectory(prefix="coachdesk-bench-") as name:
        data = Path(name)
        with our_server(data) as ours, bare_server(data / "bare") as bare:
            with ours.place(1024) as place:  # the first request imports half of the project
                ours.send(place, 1024)
            extra = memory(ours)
            ratio(ours, bare, data / "bare")
            rate = statistics.median(ratio(ours, bare, data / "bare") for _ in range(RUNS))
    return [
        row("upload.rate", rate, "ratio", "a bare socket, to disk and fsynced: at least 0.7", RUNS),
        row("upload.memory_mb", extra, "MiB", "the server before 1 GiB came: at most 32", 1),
    ]


def memory(ours: Ours) -> float:
    """How much more the worker had at its highest while 1 GiB came in than before."""
    with ours.place(MEMORY_BYTES) as place:
        Path(f"/proc/{ours.worker}/clear_refs").write_text("5")  # proc(5): VmHWM starts again
        before = ours.memory("VmRSS")
        ours.send(place, MEMORY_BYTES)
    return ours.memory("VmHWM") - before


def row(name: str, value: float, unit: str, against: str, runs: int) -> Row:
    facts: Any = {"name": name, "value": value, "unit": unit, "against": against, "runs": runs}
    return facts
