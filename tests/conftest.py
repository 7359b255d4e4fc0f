"""The fixed cast, and settings that keep tests in a folder of their own."""

import gc
from copy import deepcopy
from functools import partial
from pathlib import Path
from typing import NamedTuple

import pytest
from django.core import mail
from django.core.cache import cache
from django.core.mail import EmailMessage
from django.db import connection
from django.test import override_settings

from athletes.mail.deliver_mail import deliver_due
from athletes.models import Club, Role, User
from tests import snapshots
from tests.databases import opens_database


class Cast(NamedTuple):
    """Everybody who appears in an access test."""

    owner: User
    coach: User
    second_coach: User
    athlete: User
    other_athlete: User
    stranger: User  # a coach of another club
    outsider: User  # an athlete of another club


@pytest.fixture(scope="session")
def django_db_modify_db_settings(
    django_db_modify_db_settings_parallel_suffix: None, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """A database for each worker of pytest-xdist. SQLite in a file, not in memory: threads and the
    live server then each get a connection of their own, so WAL and IMMEDIATE are what is tested."""
    from django.conf import settings

    for database in settings.DATABASES.values():
        if database["ENGINE"].endswith("sqlite3"):
            folder = tmp_path_factory.mktemp("database")
            database.setdefault("TEST", {})["NAME"] = str(folder / "test.sqlite3")


@pytest.fixture(scope="session")
def django_db_setup(
    request: pytest.FixtureRequest, django_db_setup: None, django_db_blocker
) -> list[str]:
    """The database, and the tables with rows that migrations shipped: they come back after each
    test that empties every table. Where no test opens one, pytest-django makes none, and the
    connection is to the developer's own."""
    if not any(opens_database(one) for one in request.session.items):
        return []
    with django_db_blocker.unblock():
        tables = snapshots.filled()
        snapshots.keep("shipped", tables)
    remember(tables)
    return tables


def remember(tables: list[str]) -> None:
    """Tell the connection what to restore, and how: Django itself would save each row by itself.
    Where an event loop runs (Playwright's does, from its start), Django has another connection,
    which must be told again before the test's tables are."""
    connection._test_serialized_contents = tables
    connection.creation.deserialize_db_from_string = partial(snapshots.put_back, "shipped")


def pytest_collection_finish(session: pytest.Session) -> None:
    """What is loaded by now stays: the collector need not go through it again and again. And what
    belongs in one process is told so to the one that hands out tests."""
    gc.freeze()
    if getattr(session.config.option, "loadgroup", False):
        apart = [one for one in session.items if one.get_closest_marker("xdist_group")]
        assert all("@" in one.nodeid for one in apart), "pytest-xdist does not see its groups"


def pytest_itemcollected(item: pytest.Item) -> None:
    """Let every transactional test begin with the shipped rows; others find them there."""
    names = getattr(item, "fixturenames", [])
    marker = item.get_closest_marker("django_db")
    if {"transactional_db", "live_server"} & set(names) or (marker and marker.kwargs):
        names.append("django_db_serialized_rollback")


# For tests that are not about them: a password hash is slow on purpose.
FAST_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


def places_in(folder: Path) -> dict[str, Path]:
    """The settings that say where files go."""
    folders = {"MEDIA_ROOT": "media", "UPLOAD_DIR": "uploads", "MEDIA_WORK_DIR": "work"}
    return {setting: folder / name for setting, name in folders.items()}


@pytest.fixture(autouse=True)
def _own_folders(settings, tmp_path: Path) -> None:
    for name, place in places_in(tmp_path).items():
        setattr(settings, name, place)
    settings.EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
    settings.PASSWORD_HASHERS = FAST_HASHERS
    settings.STORAGES = {
        **settings.STORAGES,
        "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
    }


def mails() -> list[EmailMessage]:
    """What was mailed so far, after a worker has looked into the outbox."""
    deliver_due()
    return list(mail.outbox)


@pytest.fixture(autouse=True)
def _nothing_counted() -> None:
    """Attempts to sign in are counted in the cache, which tests of one process share."""
    cache.clear()


def a_club() -> Club:
    return Club.objects.create(name="Northgate Barbell", timezone="Europe/Oslo")


def cast_of(club: Club) -> Cast:
    elsewhere = Club.objects.create(name="Harbour Strength")

    def person(name: str, role: Role, at: Club = club, coach: User | None = None) -> User:
        email = f"{name.lower().replace(' ', '.')}@example.org"
        return User.objects.create_user(
            email, "a long passphrase", name=name, role=role, club=at, main_coach=coach
        )

    coach = person("Tove Lindqvist", Role.COACH)
    return Cast(
        owner=person("Oda Owner", Role.OWNER),
        coach=coach,
        second_coach=person("Bram Castel", Role.COACH),
        athlete=person("Mira Solheim", Role.ATHLETE, coach=coach),
        other_athlete=person("Joris Banda", Role.ATHLETE, coach=coach),
        stranger=person("Ilan Varga", Role.COACH, elsewhere),
        outsider=person("Nadia Frost", Role.ATHLETE, elsewhere),
    )


@pytest.fixture(scope="session")
def kept_cast(django_db_setup: list[str], django_db_blocker) -> tuple[Cast, list[str]]:
    """The cast, and the tables that its rows are in."""
    with django_db_blocker.unblock(), override_settings(PASSWORD_HASHERS=FAST_HASHERS):
        cast = cast_of(a_club())
        tables = [table for table in snapshots.filled() if table not in django_db_setup]
        snapshots.keep("cast", tables)
        snapshots.empty(tables)
    return cast, tables


@pytest.fixture
def cast(kept_cast: tuple[Cast, list[str]], db: None) -> Cast:
    made, tables = kept_cast
    snapshots.put_back("cast", tables)
    return deepcopy(made)


@pytest.fixture
def club(request: pytest.FixtureRequest, db: None) -> Club:
    """The cast's, where there is one."""
    if "cast" in request.fixturenames:
        return request.getfixturevalue("cast").owner.club
    return a_club()
