"""What went wrong, what is safe, what to do: the pages for errors."""

import pytest
from django.db import DatabaseError
from django.test import Client

from tests.conftest import Cast


def test_an_unknown_address_says_so(db, client: Client) -> None:
    answer = client.get("/no-such-page/")
    assert answer.status_code == 404
    assert b"Nothing is here" in answer.content


def test_a_page_of_another_role_says_so(cast: Cast, client: Client) -> None:
    client.force_login(cast.athlete)
    answer = client.get("/people/")
    assert answer.status_code == 403
    assert b"not yours to open" in answer.content


def test_a_failure_of_ours_needs_nothing_that_may_have_failed(
    cast: Cast, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*args: object) -> None:
        raise DatabaseError("the disk is gone")

    monkeypatch.setattr("athletes.views.people.selectors.athletes_of", broken)
    client = Client(raise_request_exception=False)
    client.force_login(cast.coach)
    answer = client.get("/people/")
    assert answer.status_code == 500
    assert b"wrong on our side" in answer.content
    assert b"the disk is gone" not in answer.content


@pytest.mark.parametrize("path", ["/", "/people/", "/me/", "/accounts/sessions/"])
def test_whoever_is_not_signed_in_comes_back_after_signing_in(
    cast: Cast, client: Client, path: str
) -> None:
    answer = client.get(path)
    assert answer.headers["Location"] == f"/accounts/login/?next={path}"
    facts = {"login": cast.coach.email, "password": "a long passphrase", "next": path}
    assert client.post("/accounts/login/", facts).headers["Location"] == path


def test_nobody_is_sent_to_another_site(cast: Cast, client: Client) -> None:
    facts = {
        "login": cast.coach.email,
        "password": "a long passphrase",
        "next": "https://elsewhere.example/",
    }
    assert client.post("/accounts/login/", facts).headers["Location"] == "/"


@pytest.mark.parametrize("path", ["/accounts/login/", "/no-such-page/", "/me/", "/health/live"])
def test_every_answer_carries_the_strict_policy(cast: Cast, client: Client, path: str) -> None:
    """W3C CSP level 3: no 'unsafe-inline' and no other origin, on pages and errors alike."""
    client.force_login(cast.athlete)
    policy = client.get(path).headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "http" not in policy
