"""Clients that hold connections to a server of ours on 127.0.0.1: for the bench and fault tests.

`python -m coachdesk.benchmarks.held_connections SCENE.json COUNT` runs them in a process of their
own until it is ended, or for ten minutes. It prints a line a moment after all of them hold their
first connection. Whoever is answered or cut comes again after a while, as somebody would who means
it.
"""

import asyncio
import json
import subprocess
import sys
from collections.abc import Awaitable, Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import asdict, dataclass
from pathlib import Path

from coachdesk.common.paths import CHECKOUT

MOST_SECONDS = 600
AGAIN_SECONDS = 5.0
SETTLE_SECONDS = 5.0  # from the last connection: what is measured is being held, not the rush
HUGE = 100_000_000
TOKEN = "c" * 32  # a CSRF secret serves as its own token (django.middleware.csrf)

# Run by `manage.py shell`: an athlete, a draft with a dozen uploads begun, a coach, a large clip.
STAGE = """
import json
from django.conf import settings
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY
from django.contrib.sessions.backends.db import SessionStore
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.utils import timezone
from athletes.models import Club, User
from reviews.intake import uploads
from reviews.intake.models import Clip, Submission
from reviews.intake.submitting import open_draft
club = Club.objects.create(name="Slow clients")
sessions = {}
people = {}
for name, role in (("athlete", "athlete"), ("other", "athlete"), ("coach", "coach")):
    user = User.objects.create_user(f"{name}@example.org", name=name, club=club, role=role)
    session = SessionStore()
    session.update({SESSION_KEY: str(user.pk), HASH_SESSION_KEY: user.get_session_auth_hash()})
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[0]
    session.create()
    sessions[name] = session.session_key
    people[name] = user
def begin(athlete, draft, length):
    clip = Clip.objects.create(submission=draft)
    upload = uploads.begin(
        owner=athlete, clip_id=clip.pk, length=length, filename="set.mp4", metadata=""
    )
    return f"/uploads/{upload.pk}"
athlete = people["athlete"]
draft = open_draft(athlete=athlete)
sent = Submission.objects.create(
    club=club, athlete=athlete, state="waiting", sent_at=timezone.now(), question="Why?"
)
shown = Clip.objects.create(
    submission=sent, state="playable", sha256="ab" * 32, recipe=1, frames=1, size=1,
    made={"files": {"playable": "playable.mp4"}},
)
default_storage.save(f"{shown.derived_folder}/playable.mp4", ContentFile(bytes(64 * 1024**2)))
print(json.dumps({
    "sessions": sessions,
    "uploads": [begin(athlete, draft, 200_000_000) for _ in range(12)],
    "upload": begin(people["other"], open_draft(athlete=people["other"]), 4 * 1024**2),
    "clip": f"/media/clips/{shown.pk}/playable",
}))
"""


@dataclass(frozen=True)
class Scene:
    """Where the server is, who is signed in, and what can be held."""

    port: int
    sessions: dict[str, str]
    uploads: list[str]  # of the athlete, who holds them
    upload: str  # of the other, 4 MiB
    clip: str

    def headers(self, name: str) -> dict[str, str]:
        """Of somebody signed in: the session's cookie, and the token a form would carry."""
        cookie = f"sessionid={self.sessions[name]}; csrftoken={TOKEN}"
        return {"Host": "127.0.0.1", "Cookie": cookie, "X-CSRFToken": TOKEN}

    def upload_headers(self, name: str, length: int) -> dict[str, str]:
        return {
            **self.headers(name),
            "Content-Length": str(length),
            "Content-Type": "application/offset+octet-stream",
            "Tus-Resumable": "1.0.0",
            "Upload-Offset": "0",
        }


@contextmanager
def held(scene: Scene, count: int, folder: Path) -> Iterator[None]:
    """`count` connections of each kind, from the moment that all are there."""
    file = folder / "scene.json"
    file.write_text(json.dumps(asdict(scene)))
    command = [sys.executable, "-m", "coachdesk.benchmarks.held_connections", str(file), str(count)]
    process = subprocess.Popen(command, cwd=CHECKOUT, stdout=subprocess.PIPE)
    assert process.stdout is not None
    try:
        if process.stdout.readline() != b"held\n":
            raise RuntimeError("The slow clients ended; their error is above.")
        yield
    finally:
        process.kill()
        process.wait()
        process.stdout.close()


class Client:
    """One who comes again and again; `holds` is set when the first connection is held."""

    def __init__(self, scene: Scene, number: int) -> None:
        self.scene = scene
        self.number = number
        self.holds = asyncio.Event()

    async def come(self, text: str, limit: int = 2**16) -> asyncio.StreamReader:
        reader, self.writer = await asyncio.open_connection(
            "127.0.0.1", self.scene.port, limit=limit
        )
        self.writer.write(text.encode())
        await self.writer.drain()
        self.holds.set()
        return reader


def _head(method: str, path: str, headers: dict[str, str]) -> str:
    lines = "".join(f"{name}: {value}\r\n" for name, value in headers.items())
    return f"{method} {path} HTTP/1.1\r\n{lines}\r\n"


async def half_a_header(client: Client) -> None:
    reader = await client.come("G")
    await reader.read(1)


async def stopped_form(client: Client) -> None:
    """Signed out, with the token of its own cookie: it is the body that says who may."""
    headers = {"Host": "127.0.0.1", "Cookie": f"csrftoken={TOKEN}", "Content-Length": "1000"}
    headers["Content-Type"] = "application/x-www-form-urlencoded"
    reader = await client.come(_head("POST", "/accounts/login/", headers) + "login=")
    await reader.read(1)


async def slow_upload(client: Client) -> None:
    """1 KB/s, signed in."""
    path = client.scene.uploads[client.number % len(client.scene.uploads)]
    reader = await client.come(_head("PATCH", path, client.scene.upload_headers("athlete", HUGE)))
    answer = asyncio.create_task(reader.read(1))
    while not (await asyncio.wait([answer], timeout=1.0))[0]:
        client.writer.write(bytes(1000))


async def paused_player(client: Client) -> None:
    """Asks for all of a clip and takes none of it. It does not notice when it is cut."""
    headers = {**client.scene.headers("coach"), "Range": "bytes=0-"}
    await client.come(_head("GET", client.scene.clip, headers), limit=1)
    await asyncio.sleep(MOST_SECONDS)


KINDS: list[Callable[[Client], Awaitable[None]]] = [
    half_a_header, stopped_form, slow_upload, paused_player,
]  # fmt: skip


async def _again_and_again(kind: Callable[[Client], Awaitable[None]], client: Client) -> None:
    while True:
        with suppress(OSError):
            await kind(client)
        client.holds.set()  # also when it was refused at once: that is the server's answer
        with suppress(AttributeError):
            client.writer.close()
        await asyncio.sleep(AGAIN_SECONDS)


async def _hold(scene: Scene, count: int) -> None:
    clients = []
    tasks = []
    for number in range(count):
        for kind in KINDS:
            clients.append(Client(scene, number))
            tasks.append(asyncio.create_task(_again_and_again(kind, clients[-1])))
        await asyncio.sleep(0.005)
    for client in clients:
        await client.holds.wait()
    await asyncio.sleep(SETTLE_SECONDS)
    print("held", flush=True)
    with suppress(TimeoutError):
        await asyncio.wait_for(asyncio.gather(*tasks), MOST_SECONDS)


if __name__ == "__main__":
    asyncio.run(_hold(Scene(**json.loads(Path(sys.argv[1]).read_text())), int(sys.argv[2])))
