"""The one runner: every foreign program that touches an upload is started here.

No shell, no stdin, a bare environment, resource limits, a process group of its own that is killed
as a whole, and death with the worker.
"""

import os
import selectors
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

import psutil

from reviews.media.limits import Limits
from reviews.media.machine import MachineFault, Part, out_of_memory_kills, part_at_fault
from reviews.media.refusals import Interrupted, Refused

_CONFINE = str(Path(__file__).with_name("confine.py"))
_KEEP_ERRORS = 16_384  # a broken file can make ffmpeg complain without end
_BUSY_SHARE = 0.4  # of one core: less means that others had the machine
_PATIENCE = 4
_ARENAS = "2"  # glibc reserves 64 MB of address space per thread arena, and we limit address space


@dataclass(frozen=True)
class Ran:
    """How a program ended: exit status (negative: the signal that killed it) and its words."""

    status: int
    output: bytes
    errors: str


def run(
    command: Sequence[str],
    *,
    folder: Path,
    limits: Limits,
    wall_seconds: float,
    stall_seconds: float | None = None,
    on_line: Callable[[str], bool] | None = None,
) -> Ran:
    """Run `command` in `folder` and wait for it.

    `on_line` gets each line of output and says whether it shows progress (with it, output is not
    kept). After `wall_seconds`, or when the program worked for `stall_seconds` without progress,
    the whole group is killed and Refused("too_hard") is raised. When it hardly got to work at all,
    the machine is to blame: Interrupted, as for a kill that is not ours; MachineFault where it
    lacks something.
    """
    kills = out_of_memory_kills()
    process = _start(command, folder, limits)
    try:
        ran = _Watch(process, wall_seconds, stall_seconds, on_line).until_end()
    finally:
        _end_group(process)
    if ran.errors.startswith("confine:"):
        part: Part = "memory" if "Cannot allocate memory" in ran.errors else "program"
        raise MachineFault(part, ran.errors.strip())
    if ran.status == -signal.SIGKILL:
        what = f"{Path(command[0]).name} was killed: {ran.errors[-300:]}"
        if out_of_memory_kills() > kills:
            raise MachineFault("memory", what)
        raise Interrupted(what)
    if ran.status == -signal.SIGXCPU:
        raise Refused("too_hard", "processor time")
    if ran.status == -signal.SIGXFSZ or "File too large" in ran.errors:
        raise Refused("too_hard", "output size")
    if "No space left on device" in ran.errors:
        raise MachineFault("disk", "the disk is full")
    return ran


def _start(command: Sequence[str], folder: Path, limits: Limits) -> "subprocess.Popen[bytes]":
    bounds = (limits.memory, limits.cpu_seconds, limits.output_bytes, limits.open_files)
    try:
        return subprocess.Popen(
            [sys.executable, "-I", "-S", _CONFINE, str(os.getpid()), *map(str, bounds), *command],
            cwd=folder,
            env={"PATH": "/usr/bin:/bin", "LC_ALL": "C.UTF-8", "MALLOC_ARENA_MAX": _ARENAS},
            stdin=subprocess.DEVNULL,
            stdout=subprocess.PIPE,
            stderr=subprocess.PIPE,
            start_new_session=True,
        )
    except OSError as error:
        part = part_at_fault(error) or "program"
        raise MachineFault(part, f"could not start {command[0]}: {error}") from error


def _end_group(process: "subprocess.Popen[bytes]") -> None:
    """Kill what is left of the group, so that no helper process outlives its clip."""
    if process.poll() is None:
        os.killpg(process.pid, signal.SIGKILL)
        process.wait()
    for pipe in (process.stdout, process.stderr):
        if pipe is not None:
            pipe.close()


class _Watch:
    """Reads both pipes of one process and keeps the time."""

    def __init__(
        self,
        process: "subprocess.Popen[bytes]",
        wall_seconds: float,
        stall_seconds: float | None,
        on_line: Callable[[str], bool] | None,
    ) -> None:
        self._process = process
        self._stall = stall_seconds
        self._on_line = on_line
        self._output = bytearray()
        self._errors = bytearray()
        self._moved = time.monotonic()
        self._worked = 0.0
        self._end = self._moved + wall_seconds

    def until_end(self) -> Ran:
        with selectors.DefaultSelector() as pipes:
            for pipe, take in (
                (self._process.stdout, self._take_output),
                (self._process.stderr, self._take_errors),
            ):
                if pipe is not None:
                    pipes.register(pipe, selectors.EVENT_READ, take)
            while pipes.get_map():
                for key, _ in pipes.select(timeout=0.5):
                    data = os.read(key.fd, 65_536)
                    if data:
                        key.data(data)
                    else:
                        pipes.unregister(key.fileobj)
                self._check_time()
        while self._process.poll() is None:  # it closed its pipes and lives on
            self._check_time()
            time.sleep(0.02)
        errors = self._errors.decode("utf-8", "replace")
        return Ran(self._process.returncode, bytes(self._output), errors)

    def _take_output(self, data: bytes) -> None:
        self._output += data
        if self._on_line is None:
            return
        *lines, rest = self._output.split(b"\n")
        self._output = bytearray(rest)
        for line in lines:
            if self._on_line(line.decode("utf-8", "replace").strip()):
                self._moved, self._worked = time.monotonic(), self._cpu_seconds()

    def _take_errors(self, data: bytes) -> None:
        self._errors += data
        del self._errors[:-_KEEP_ERRORS]

    def _check_time(self) -> None:
        now = time.monotonic()
        if now > self._end:
            raise Refused("too_hard", "out of time")
        if self._stall is None or now - self._moved < self._stall:
            return
        if self._cpu_seconds() - self._worked >= self._stall * _BUSY_SHARE:
            raise Refused("too_hard", f"no progress in {self._stall:.0f} s")
        if now - self._moved > self._stall * _PATIENCE:
            raise Interrupted(f"hardly ran for {now - self._moved:.0f} s: the machine is too busy")

    def _cpu_seconds(self) -> float:
        """Processor time used so far: on a busy machine, waiting is not standing still."""
        try:
            times = psutil.Process(self._process.pid).cpu_times()
        except psutil.NoSuchProcess:
            return self._worked
        return float(times.user + times.system)
