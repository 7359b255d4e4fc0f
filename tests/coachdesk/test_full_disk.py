"""What is written while the disk is full is answered plainly, and what was typed is kept."""

import re
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from html import unescape

import pytest
from django.db import OperationalError, connection
from django.test import Client

from reviews.replies.models import Message
from tests.conftest import Cast
from tests.reviews.replies.rows import a_submission

pytestmark = pytest.mark.django_db(transaction=True)
# Longer than a page of the database: it cannot slip into a gap that is left somewhere.
TEXT = "Why do I tip forward <above> 140 kg?\n" + "🏋" * 1900


@contextmanager
def full_disk() -> Iterator[None]:
    """The database's own answer. SQLite: not one page more (PRAGMA max_page_count). PostgreSQL:
    its error for a full disk (SQLSTATE 53100), raised where the message is written."""
    with connection.cursor() as cursor:
        (_fill_sqlite if connection.vendor == "sqlite" else _fill_postgres)(cursor)
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            if connection.vendor == "sqlite":
                cursor.execute("PRAGMA max_page_count = 1073741823")
                cursor.execute("DROP TABLE filler")
            else:
                cursor.execute("DROP FUNCTION disk_full CASCADE")


def _fill_sqlite(cursor) -> None:
    cursor.execute("CREATE TABLE filler (x)")
    pages = cursor.execute("PRAGMA page_count").fetchone()[0]
    cursor.execute(f"PRAGMA max_page_count = {pages}")
    with suppress(OperationalError):
        while True:
            cursor.execute("INSERT INTO filler VALUES (zeroblob(1000))")


def _fill_postgres(cursor) -> None:
    cursor.execute(
        "CREATE FUNCTION disk_full() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN RAISE EXCEPTION "
        "'could not extend file: No space left on device' USING ERRCODE = '53100'; END $$; "
        "CREATE TRIGGER disk_full BEFORE INSERT ON reviews_message FOR EACH ROW "
        "EXECUTE FUNCTION disk_full()"
    )


@pytest.fixture
def client(cast: Cast) -> Client:
    client = Client(raise_request_exception=False)
    client.force_login(cast.athlete)
    client.get("/me/")  # seen this minute: what follows writes only what it is asked to
    return client


def test_a_form_comes_back_with_what_was_typed_and_goes_on_from_there(
    cast: Cast, client: Client
) -> None:
    path = f"/submissions/{a_submission(cast.athlete).pk}/ask/"
    with full_disk():
        answer = client.post(path, {"text": TEXT})
    assert answer.status_code == 507
    shown = answer.content.decode()
    assert "the server’s disk is full" in shown
    assert "What was saved before is safe" in shown
    kept = re.search(r'<textarea[^>]* name="text"[^>]*>\n(.*?)</textarea>', shown, re.DOTALL)
    assert kept
    assert unescape(kept[1]) == TEXT
    form = re.search(r'<form[^>]* action="([^"]+)"', shown)
    assert form
    assert client.post(form[1], {"text": unescape(kept[1])}).status_code == 302
    assert Message.objects.get().text == TEXT.strip()


def test_a_page_that_only_reads_goes_on(cast: Cast, client: Client) -> None:
    with full_disk():
        assert client.get("/me/").status_code == 200


def test_a_program_gets_a_problem(cast: Cast, client: Client) -> None:
    path = f"/api/v1/submissions/{a_submission(cast.athlete).pk}/messages/"
    with full_disk():
        answer = client.post(path, {"text": TEXT}, "application/json")
    assert answer.status_code == 507
    assert answer["Content-Type"] == "application/problem+json"
    assert answer.json()["detail"].startswith("This was not saved.")


def test_a_secret_is_not_written_into_the_page(cast: Cast, client: Client, monkeypatch) -> None:
    def full(*args: object, **options: object) -> None:
        raise OperationalError("database or disk is full")

    monkeypatch.setattr("allauth.account.forms.ChangePasswordForm.save", full)
    fresh = "fresh chalk and iron"
    facts = {"oldpassword": "a long passphrase", "password1": fresh, "password2": fresh}
    answer = client.post("/accounts/password/change/", facts)
    assert answer.status_code == 507
    assert fresh not in answer.content.decode()
