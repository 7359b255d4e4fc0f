"""Child processes that end with their parent, whichever way it goes."""

import ctypes
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

PR_SET_PDEATHSIG = 1  # linux/prctl.h
GRACE_SECONDS = 8


def dies_with_parent(parent: int, ask: signal.Signals) -> Callable[[], None]:
    """A preexec function: the kernel sends ``ask`` when the parent is gone, even by kill -9."""
    libc = ctypes.CDLL(None, use_errno=True) if sys.platform == "linux" else None

    def before_exec() -> None:
        # A shell that starts us in the background has these ignored, and a child inherits that.
        for number in (signal.SIGINT, signal.SIGQUIT):
            signal.signal(number, signal.SIG_DFL)
        if libc is not None:
            libc.prctl(PR_SET_PDEATHSIG, int(ask))
        if os.getppid() != parent:  # it died before the kernel was asked
            os._exit(1)

    return before_exec


def end_with(parent: int) -> None:
    """Called in a process of a pool: end when the parent ends, also when that is killed."""
    dies_with_parent(parent, signal.SIGKILL)()


@dataclass
class Child:
    """One part: its name, its process and the signal that ends it quickly and cleanly."""

    name: str
    command: list[str]
    ask: signal.Signals = signal.SIGTERM
    process: subprocess.Popen[bytes] | None = field(default=None, init=False)

    def start(self, *, log: Path, environment: dict[str, str]) -> None:
        log.parent.mkdir(parents=True, exist_ok=True)
        with log.open("ab") as out:
            self.process = subprocess.Popen(
                self.command,
                stdin=subprocess.DEVNULL,
                stdout=out,
                stderr=subprocess.STDOUT,
                env=environment,
                # Its own group: Ctrl-C reaches the parent alone, which ends the parts in order.
                start_new_session=True,
                # A killed parent asks nobody: every part is made to survive kill -9, and a
                # polite end may take longer than the next start is willing to wait.
                preexec_fn=dies_with_parent(os.getpid(), signal.SIGKILL),
            )

    @property
    def has_ended(self) -> bool:
        return self.process is not None and self.process.poll() is not None

    def end(self) -> None:
        if self.process is None or self.process.poll() is not None:
            return
        self.process.send_signal(self.ask)

    def wait_or_kill(self, until: float) -> None:
        if self.process is None:
            return
        try:
            self.process.wait(max(0.1, until - time.monotonic()))
        except subprocess.TimeoutExpired:
            os.killpg(self.process.pid, signal.SIGKILL)
            self.process.wait()


def end_all(children: list[Child]) -> None:
    """Ask every child, last started first; kill what has not ended in time."""
    for child in reversed(children):
        child.end()
    until = time.monotonic() + GRACE_SECONDS
    for child in reversed(children):
        child.wait_or_kill(until)
