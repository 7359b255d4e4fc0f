"""Start-up checks: refuse what would lose data."""

import sqlite3
from typing import Any

from django.core.checks import CheckMessage, Error, Tags, register
from django.db import connection

# SQLite's WAL-reset bug: 3.7.0 to 3.51.2, with the fix carried back to 3.44.6 and 3.50.7.
FIXED_FROM = (3, 51, 3)
FIXED_BACKPORTS = {(3, 44, 6), (3, 50, 7)}


def is_safe_for_wal(version: tuple[int, ...]) -> bool:
    """Whether this SQLite may be trusted with a WAL database and concurrent writers."""
    return version >= FIXED_FROM or version in FIXED_BACKPORTS


@register(Tags.database)
def sqlite_is_safe(**kwargs: Any) -> list[CheckMessage]:
    if connection.vendor != "sqlite":
        return []
    version = sqlite3.sqlite_version_info
    if is_safe_for_wal(version):
        return []
    text = ".".join(map(str, version))
    return [
        Error(
            f"SQLite {text} can corrupt a database in WAL mode when writers meet.",
            hint="Install the locked requirements (pysqlite3 carries a fixed SQLite), "
            "or set COACHDESK_DATABASE_URL to PostgreSQL.",
            id="coachdesk.E001",
        )
    ]
