"""The health addresses: alive is not the same as ready."""

import pytest

from coachdesk.checks import is_safe_for_wal


def test_live_answers_without_any_part(client) -> None:
    answer = client.get("/health/live")
    assert answer.status_code == 200
    assert answer.json() == {"status": "ok"}


@pytest.mark.django_db
def test_ready_names_the_part_that_is_not(client, settings) -> None:
    settings.CELERY_BROKER_URL = "redis+socket:///nowhere/valkey"
    answer = client.get("/health/ready")
    assert answer.status_code == 503
    assert answer.json()["parts"] == {
        "database": "ok",
        "broker": "ConnectionError",
        "storage": "ok",
    }


@pytest.mark.parametrize(
    ("version", "safe"),
    [
        ((3, 40, 1), False),  # Debian 12
        ((3, 44, 6), True),
        ((3, 50, 6), False),
        ((3, 50, 7), True),
        ((3, 51, 2), False),
        ((3, 51, 3), True),
        ((3, 53, 4), True),
    ],
)
def test_versions_with_the_wal_reset_bug_are_refused(version: tuple[int, ...], safe: bool) -> None:
    # Affected versions as the SQLite project states them: "3.7.0 through 3.51.2, except 3.44.6
    # and 3.50.7" (sqlite.org, WAL-reset bug; read at second hand).
    assert is_safe_for_wal(version) is safe


def test_the_library_in_use_is_a_safe_one() -> None:
    import sqlite3

    assert is_safe_for_wal(sqlite3.sqlite_version_info)
