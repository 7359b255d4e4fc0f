"""A pytest plugin, `-p tests.on_postgres`: what touches the database, once more on PostgreSQL.

One server for all of pytest's workers, each with a database of its own. Tests that never open the
database are left out: they would say the same again.
"""

import os
from contextlib import ExitStack

import pytest

from tests import postgres
from tests.databases import SETTING, opens_database

_started = ExitStack()


@pytest.hookimpl(tryfirst=True)
def pytest_load_initial_conftests() -> None:
    """Before the settings are read. Workers of pytest-xdist inherit the server's address."""
    if SETTING not in os.environ:
        os.environ[SETTING] = _started.enter_context(postgres.server())


def pytest_unconfigure() -> None:
    _started.close()


def pytest_addoption(parser: pytest.Parser) -> None:
    parser.addoption("--sites", action="store_true", help="also tests of a site of their own")


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    also = {"site"} if config.getoption("--sites") else set()
    kept, left = [], []
    for item in items:
        (kept if opens_database(item, also) else left).append(item)
    config.hook.pytest_deselected(items=left)
    items[:] = kept


def pytest_report_header() -> str:
    from django.db import connection

    return f"database: {connection.vendor}"
