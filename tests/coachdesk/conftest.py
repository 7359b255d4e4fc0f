"""Other databases than the test's own, for what moves and restores."""

from collections.abc import Iterator

import psycopg
import pytest
from django.db.backends.base.base import BaseDatabaseWrapper

from tests import postgres
from tests.faults.conftest import short_lift as short_lift


@pytest.fixture
def other_databases(transactional_db: None, django_db_blocker, monkeypatch) -> None:
    """Django's test case refuses any connection that the settings did not name; these are ours."""
    real = django_db_blocker._real_ensure_connection
    monkeypatch.setattr(BaseDatabaseWrapper, "ensure_connection", real)


@pytest.fixture(scope="session")
def elsewhere() -> Iterator[str]:
    with postgres.server() as url:
        yield url


@pytest.fixture
def empty(elsewhere: str, other_databases: None) -> str:
    """The URL of a PostgreSQL database without a table."""
    return without_a_table(elsewhere, "moved")


@pytest.fixture
def empty_too(elsewhere: str, other_databases: None) -> str:
    return without_a_table(elsewhere, "moved_again")


def without_a_table(elsewhere: str, name: str) -> str:
    with psycopg.connect(elsewhere, autocommit=True) as admin:
        admin.execute(f"DROP DATABASE IF EXISTS {name} WITH (FORCE)")
        admin.execute(f"CREATE DATABASE {name}")
    return elsewhere.replace("/postgres?", f"/{name}?")
