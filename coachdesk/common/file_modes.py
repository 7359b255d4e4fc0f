"""The data folder is its owner's alone: whoever else has an account on the machine reads nothing.

It holds the database, originals and, without a mail server, mails with sign-in links.
"""

import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import environ

# What lies in the data folder. A folder that somebody shares with other things is theirs to judge.
NAMES = (
    *("coachdesk.sqlite3", "coachdesk.sqlite3-wal", "coachdesk.sqlite3-shm", "secret-key"),
    *("media", "uploads", "work", "mail", "logs", "backups", "valkey", "static"),
    *("run.lock", "running.json"),
)


def umask() -> int:
    """Bits that no file of ours has: others' and, unless a front reads clips, the group's."""
    front_reads = environ.Env().bool("COACHDESK_FRONT_SENDS_MEDIA", False)
    return 0o027 if front_reads else 0o077


def restrict_new_files() -> None:
    """For this process and its children."""
    os.umask(umask())


def files_open_to_others(data: Path) -> Iterator[Path]:
    """Files and folders of the data folder with a bit that they should not have."""
    paths = [data, *(data / name for name in NAMES), *data.glob("beat*")]
    for top in paths:
        inside = top.rglob("*") if top != data else ()
        for path in (top, *inside):
            with suppress(FileNotFoundError):  # gone since it was listed
                if not path.is_symlink() and path.stat().st_mode & umask():
                    yield path


def restrict(data: Path) -> None:
    """Take from what is there already the bits that it should not have. What another account owns
    stays as it is; `doctor` names it."""
    for path in files_open_to_others(data):
        with suppress(FileNotFoundError, PermissionError):
            path.chmod(path.stat().st_mode & 0o7777 & ~umask())
