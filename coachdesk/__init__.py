"""The project. Importing it puts a safe SQLite in place before Django loads its backend.

SQLite 3.7.0 to 3.51.2 can corrupt a WAL database when two connections checkpoint and commit at
once, and distributions ship such versions; the pysqlite3 wheel carries a newer library.
"""

import sys

import pysqlite3

sys.modules["sqlite3"] = pysqlite3
sys.modules["sqlite3.dbapi2"] = pysqlite3.dbapi2

from coachdesk.celery import app as celery_app  # noqa: E402

__all__ = ["celery_app"]
