"""Another database than the configured one, for as long as a command needs it."""

import os
import subprocess
import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager

import environ
from django.db import connections

from coachdesk.common.errors import Conflict
from coachdesk.common.paths import CHECKOUT

ALIAS = "other"


@contextmanager
def other_database(url: str) -> Iterator[str]:
    """The alias under which the database of `url` can be used inside the block."""
    config = environ.Env.db_url_config(url)
    whole = connections.configure_settings({"default": {}, ALIAS: config})
    connections.settings[ALIAS] = whole[ALIAS]
    try:
        yield ALIAS
    finally:
        connections[ALIAS].close()
        del connections[ALIAS]
        del connections.settings[ALIAS]


def refuse_unless_empty(alias: str) -> None:
    """Raises Conflict unless the database has no table at all."""
    with connections[alias].cursor() as cursor:
        tables = connections[alias].introspection.table_names(cursor)
    if tables:
        raise Conflict(
            f"The target is not empty: it has {len(tables)} tables. Nothing was changed."
        )


def make_tables(url: str, upto: Sequence[str] = ()) -> None:
    """Migrate the database of `url`, in a process of its own; to this version, or only `upto`.

    A migration that fills in rows writes to the configured database whatever alias is migrated.
    """
    whole = ["manage.py", "migrate", "--verbosity", "0"]
    done = subprocess.run(
        [sys.executable, *(["-m", "coachdesk.ops.migrate_to", *upto] if upto else whole)],
        cwd=CHECKOUT,
        env={**os.environ, "COACHDESK_DATABASE_URL": url},
        capture_output=True,
        text=True,
    )
    if done.returncode:
        raise Conflict(f"The tables could not be made there:\n{done.stderr[-2000:]}")
