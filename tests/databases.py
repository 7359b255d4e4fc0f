"""Which database tests are in, and another beside it for a site of its own."""

import os
from collections.abc import Collection
from urllib.parse import urlsplit
from uuid import uuid4

import psycopg
import pytest
from django.db import connection

SETTING = "COACHDESK_DATABASE_URL"
OPENS = {"db", "transactional_db", "live_server"}


def opens_database(item: pytest.Item, also: Collection[str] = ()) -> bool:
    """Whether a test opens the database of tests, or has one of the fixtures `also`."""
    fixtures = set(getattr(item, "fixturenames", ()))
    opens = bool((OPENS | set(also)) & fixtures)
    return opens or item.get_closest_marker("django_db") is not None


def of_tests() -> dict[str, str]:
    """The setting that leads another process to the database of the test that runs."""
    name = str(connection.settings_dict["NAME"])
    server = os.environ.get(SETTING)
    return {SETTING: _named(server, name) if server else f"sqlite:///{name}"}


def own(*, like: dict[str, str] | None = None) -> dict[str, str]:
    """The setting of a new database, empty or with all that is in another of ours.

    None is needed on SQLite: there it lies in the data folder, and goes where that is copied.
    """
    server = os.environ.get(SETTING)
    if not server:
        return {}
    name = f"site_{uuid4().hex}"
    copied = f' TEMPLATE "{urlsplit(like[SETTING]).path[1:]}"' if like else ""
    with psycopg.connect(server, autocommit=True) as asked:
        asked.execute(f'CREATE DATABASE "{name}"{copied}')
    return {SETTING: _named(server, name)}


def _named(server: str, name: str) -> str:
    return urlsplit(server)._replace(path=f"/{name}").geturl()
