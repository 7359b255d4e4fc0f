"""One file that holds a club's whole data, taken while the site runs."""

import sqlite3
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from django.core.files.storage import Storage, default_storage
from django.db import connection

from athletes.mail.models import TEXT
from coachdesk.common.paths import DATA
from coachdesk.ops import archive
from coachdesk.ops.copy_rows import copy_all, tables_as_migrated
from coachdesk.ops.other_database import make_tables, other_database

# Files on their way to their final name, and what the readiness probe writes.
PASSING = {"staging", "health"}


@dataclass(frozen=True)
class Taken:
    files: int
    bytes: int
    lost: list[str]  # went while the backup ran: their clip was removed meanwhile


def write_backup(path: Path) -> Taken:
    """Write everything to `path`. Raises Conflict, and then there is no such file.

    The database is one moment's, and the files come after it: whatever a row of it names was
    stored before. Uploads that are still arriving stay out; phones begin those again.
    """
    with tempfile.TemporaryDirectory(dir=path.parent) as folder, archive.writing(path) as writer:
        snapshot = Path(folder) / archive.DATABASE
        take_snapshot(snapshot)
        _leave_mails_out(snapshot)
        with snapshot.open("rb") as file:
            writer.add(archive.DATABASE, file, snapshot.stat().st_size)
        key = DATA / "secret-key"
        if key.exists():
            with key.open("rb") as file:
                writer.add(archive.KEY, file, key.stat().st_size)
        lost, size, count = [], 0, 0
        for name in stored_files(default_storage):
            try:
                length = default_storage.size(name)
                with default_storage.open(name) as source:
                    writer.add(archive.MEDIA + name, source, length)
            except FileNotFoundError:
                lost.append(name)
            else:
                size, count = size + length, count + 1
        writer.close(lost=lost)
    return Taken(files=count, bytes=size, lost=lost)


def take_snapshot(path: Path) -> None:
    """The database at one moment as a SQLite file, while others write.

    SQLite's online backup copies from one read transaction; PostgreSQL's rows are copied from one.
    Either has the tables as they are, also where the code is newer and has yet to migrate them.
    """
    if connection.vendor == "sqlite":
        connection.ensure_connection()
        target = sqlite3.connect(path)
        try:
            connection.connection.backup(target)
        finally:
            target.close()
        return
    url = f"sqlite:///{path}"
    done, every = tables_as_migrated("default")
    make_tables(url, done)
    with other_database(url) as other:
        copy_all("default", other, every)


def _leave_mails_out(snapshot: Path) -> None:
    """Mails that wait as text hold sign-in links; a copy of them would outlive their being sent.
    VACUUM, because a deleted row's bytes stay in the file until then."""
    copy = sqlite3.connect(snapshot, isolation_level=None)
    try:
        if copy.execute("SELECT 1 FROM sqlite_master WHERE name = 'athletes_mail'").fetchone():
            copy.execute("DELETE FROM athletes_mail WHERE kind = ?", (TEXT,))
        copy.execute("VACUUM")
    finally:
        copy.close()


def stored_files(storage: Storage, folder: str = "") -> Iterator[str]:
    """Every file of the storage that is worth keeping, in order of name."""
    try:
        folders, names = storage.listdir(folder)
    except FileNotFoundError:
        return
    for name in sorted(names):
        yield f"{folder}/{name}" if folder else name
    for inner in sorted(folders):
        if folder or inner not in PASSING:
            yield from stored_files(storage, f"{folder}/{inner}" if folder else inner)
