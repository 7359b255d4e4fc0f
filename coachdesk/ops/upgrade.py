"""Migrations that leave everything as it was when one of them fails."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.core.management import call_command
from django.db import connection, transaction
from django.utils import timezone

from coachdesk.common.paths import DATA
from coachdesk.ops.backup import take_snapshot


def upgrade(*, folder: Path = DATA / "backups") -> Path | None:
    """Migrate; the copy that was taken before. Whatever fails is put back and raised.

    On PostgreSQL the failed transaction puts it back, and the copy (a SQLite file, as in a backup)
    is for a migration that ended well and did harm.
    """
    if not connection.introspection.table_names():  # nothing yet that could be lost
        call_command("migrate", verbosity=0, interactive=False)
        return None
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    copy = folder / f"before-upgrade-{timezone.now():%Y%m%d-%H%M%S-%f}.sqlite3"
    take_snapshot(copy)
    if connection.vendor == "postgresql":
        with _all_or_nothing():
            call_command("migrate", verbosity=0, interactive=False)
        return copy
    try:
        call_command("migrate", verbosity=0, interactive=False)
    except BaseException:
        put_back(copy)
        raise
    return copy


@contextmanager
def _all_or_nothing() -> Iterator[None]:
    """PostgreSQL takes back tables as well as rows: all migrations are one transaction.

    Rows that one migration writes are checked at once, or the next could not alter their table.
    """
    with transaction.atomic():
        with connection.cursor() as cursor:
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        yield


def put_back(copy: Path) -> None:
    """Make the configured SQLite database what it was when `copy` was taken."""
    source = sqlite3.connect(copy)
    try:
        connection.ensure_connection()
        source.backup(connection.connection)
    finally:
        source.close()
