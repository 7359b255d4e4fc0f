"""From a backup file to an empty place; all of it is read and compared before a byte is written."""

import os
import shutil
import tempfile
from dataclasses import dataclass
from pathlib import Path
from typing import IO

from django.core.files import File
from django.core.files.storage import default_storage
from django.core.management import call_command

from coachdesk.common.errors import Conflict
from coachdesk.common.paths import DATA
from coachdesk.ops import archive
from coachdesk.ops.backup import stored_files
from coachdesk.ops.copy_rows import Counts, copy_all
from coachdesk.ops.other_database import make_tables, other_database, refuse_unless_empty


@dataclass(frozen=True)
class Restored:
    counts: Counts
    files: int


def restore(path: Path) -> Restored:
    """Fill the configured, empty database and storage from a backup. Raises Conflict.

    A backup of an earlier version is migrated on its way in, never the other way round.
    """
    refuse_unless_empty("default")
    if next(iter(stored_files(default_storage)), None) is not None:
        raise Conflict("The storage already holds files. Nothing was changed.")
    archive.read_list(path)
    counts: Counts = {}
    files = 0
    for info, source in archive.members(path):
        if info.name == archive.DATABASE:
            counts = _fill_database(source, path.parent)
        elif info.name == archive.KEY:
            _keep_key(source.read())
        elif info.name.startswith(archive.MEDIA):
            _keep_file(info.name.removeprefix(archive.MEDIA), source)
            files += 1
    return Restored(counts=counts, files=files)


def _fill_database(source: IO[bytes], folder: Path) -> Counts:
    with tempfile.TemporaryDirectory(dir=folder) as inside:
        snapshot = Path(inside) / archive.DATABASE
        with snapshot.open("wb") as file:
            shutil.copyfileobj(source, file, archive.BLOCK)
        url = f"sqlite:///{snapshot}"
        make_tables(url)  # of an earlier version: its rows are brought up first
        call_command("migrate", verbosity=0)
        with other_database(url) as other:
            return copy_all(other, "default")


def _keep_file(name: str, source: IO[bytes]) -> None:
    kept = default_storage.save(name, File(source))
    if kept != name:
        raise Conflict(f"{name} appeared in the storage meanwhile.")


def _keep_key(key: bytes) -> None:
    """Sessions and links go on; a key that the environment gives stands above it."""
    kept = DATA / "secret-key"
    descriptor = os.open(kept, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600)
    with os.fdopen(descriptor, "wb") as file:
        file.write(key)
