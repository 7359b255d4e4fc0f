"""A working folder that cleans up after itself, and after a worker that was killed."""

import fcntl
import os
import shutil
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import mkdtemp

_PREFIX = ".making-"
_LOCK = "lock"
_YOUNG_SECONDS = 60  # between a folder's making and its locking; far more than that takes


@contextmanager
def workspace(parent: Path) -> Iterator[Path]:
    """A new folder in `parent`, gone at the end whatever happens.

    It is locked while its process lives. A process killed with -9 cannot tidy up, but the kernel
    drops its lock, so the next one to work in `parent` removes what it left.
    """
    parent.mkdir(parents=True, exist_ok=True)
    _sweep(parent)
    folder = Path(mkdtemp(prefix=_PREFIX, dir=parent))
    with (folder / _LOCK).open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        try:
            yield folder
        finally:
            shutil.rmtree(folder, ignore_errors=True)


def publish(made: Path, out: Path) -> None:
    """Move the finished folder `made` into place in one step, after its bytes are on the disk.

    `out` may be absent or empty; raises OSError when it holds something.
    """
    for path in (*made.iterdir(), made):
        handle = os.open(path, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    made.rename(out)


def _sweep(parent: Path) -> None:
    for folder in parent.glob(_PREFIX + "*"):
        try:
            young = time.time() - folder.stat().st_mtime < _YOUNG_SECONDS
            if not (young and not (folder / _LOCK).exists()) and _is_abandoned(folder):
                shutil.rmtree(folder, ignore_errors=True)
        except FileNotFoundError:
            continue  # its owner finished between our looking and our asking


def _is_abandoned(folder: Path) -> bool:
    with (folder / _LOCK).open("a") as lock:
        try:
            fcntl.flock(lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
    return True
