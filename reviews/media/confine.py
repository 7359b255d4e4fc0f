"""Start a command inside limits: `python -I -S confine.py PARENT AS CPU FSIZE NOFILE COMMAND...`.

A program of its own rather than a hook between fork and exec, because that hook may deadlock in a
worker that has threads. Imports only the standard library; starts in about 15 ms. When it cannot
start the command, what it says begins with "confine:".
"""

import contextlib
import ctypes
import os
import resource
import signal
import sys

PR_SET_PDEATHSIG = 1  # linux/prctl.h


def _die_with_parent(parent: int) -> None:
    """Have the kernel kill us when the worker goes, even by kill -9. Survives exec."""
    if not sys.platform.startswith("linux"):
        return
    if ctypes.CDLL(None, use_errno=True).prctl(PR_SET_PDEATHSIG, signal.SIGKILL) != 0:
        raise OSError(ctypes.get_errno(), "prctl")
    if os.getppid() != parent:  # the worker died before the line above took hold
        os._exit(1)


def _limit(kind: int, value: int) -> None:
    _, hard = resource.getrlimit(kind)
    if hard != resource.RLIM_INFINITY:
        value = min(value, hard)
    resource.setrlimit(kind, (value, value))


def main(argv: list[str]) -> None:
    parent, memory, cpu, size, files = (int(word) for word in argv[:5])
    _die_with_parent(parent)
    # When memory runs out the kernel should take this process and not the worker or the web server.
    with contextlib.suppress(OSError), open("/proc/self/oom_score_adj", "w") as score:
        score.write("500")
    _limit(resource.RLIMIT_CPU, cpu)
    _limit(resource.RLIMIT_FSIZE, size)
    _limit(resource.RLIMIT_NOFILE, files)
    _limit(resource.RLIMIT_CORE, 0)
    _limit(resource.RLIMIT_AS, memory)
    os.execv(argv[5], argv[5:])


if __name__ == "__main__":
    try:
        main(sys.argv[1:])
    except OSError as error:
        sys.exit(f"confine: {sys.argv[6]}: {error}")
