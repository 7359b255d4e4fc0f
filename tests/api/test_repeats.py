"""A request that is sent again: draft-ietf-httpapi-idempotency-key-header."""

import threading

import pytest
from django.db import connection
from django.test import Client

from athletes.models import Invitation
from athletes.tokens.services import issue_token
from coachdesk.common.models import IdempotencyRecord
from tests.conftest import Cast

PATH = "/api/v1/invitations/"


def post(client: Client, key: str, email: str = "new@example.org", **headers: str):
    return client.post(
        PATH, {"email": email}, "application/json", headers={"Idempotency-Key": key, **headers}
    )


@pytest.fixture
def coach(client: Client, cast: Cast) -> Client:
    client.force_login(cast.coach)
    return client


def test_the_second_time_answers_the_same_and_does_nothing(coach: Client) -> None:
    first, second = post(coach, "k-1"), post(coach, '"k-1"')
    assert (first.status_code, second.status_code) == (201, 201)
    assert first.json() == {**second.json(), "link": first.json()["link"]}
    assert second.headers["Idempotency-Replayed"] == "true"
    assert "Idempotency-Replayed" not in first.headers
    assert Invitation.objects.count() == 1


def test_another_request_under_the_same_key_is_refused(coach: Client) -> None:
    """Section 2.7 of the draft: 422."""
    post(coach, "k-1")
    answer = post(coach, "k-1", email="else@example.org")
    assert answer.status_code == 422
    assert answer.headers["Content-Type"] == "application/problem+json"
    assert Invitation.objects.count() == 1


def test_what_was_refused_can_be_put_right(coach: Client) -> None:
    assert post(coach, "k-1", email="no address").status_code == 400
    assert not IdempotencyRecord.objects.exists()
    assert post(coach, "k-1").status_code == 201


def test_keys_are_each_persons_own(coach: Client, cast: Cast) -> None:
    post(coach, "k-1")
    _, secret = issue_token(user=cast.owner, name="x", scopes=["club:write"], days=1)
    told = post(Client(), "k-1", email="b@example.org", Authorization=f"Bearer {secret}")
    assert told.status_code == 201
    assert Invitation.objects.count() == 2


@pytest.mark.parametrize("key", ["", "a b", "x" * 129, '"'])
def test_a_key_that_cannot_be_one_is_400(coach: Client, key: str) -> None:
    assert post(coach, key).status_code == 400


def test_nobody_gets_an_answer_without_signing_in(coach: Client) -> None:
    post(coach, "k-1")
    assert post(Client(), "k-1").status_code == 401


@pytest.mark.django_db(transaction=True)
def test_two_at_once_make_one(cast: Cast) -> None:
    _, secret = issue_token(user=cast.coach, name="x", scopes=["club:write"], days=1)
    answers = []

    def ask() -> None:
        try:
            answers.append(post(Client(), "k-1", Authorization=f"Bearer {secret}"))
        finally:
            connection.close()

    threads = [threading.Thread(target=ask) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert [one.status_code for one in answers] == [201] * 4
    assert len({one.content for one in answers}) == 1
    assert Invitation.objects.count() == 1


def test_what_is_told_once_is_not_kept(cast: Cast, client: Client) -> None:
    """A calendar's address opens it for whoever has it; elsewhere only its digest is stored."""
    client.force_login(cast.athlete)
    words = {"content_type": "application/json", "headers": {"Idempotency-Key": "k-1"}}
    first, second = (client.post("/api/v1/me/calendar/", **words).json() for _ in range(2))
    assert first["address"].endswith(".ics")
    assert second == {**first, "address": None}
    assert first["address"].encode() not in bytes(IdempotencyRecord.objects.get().body)
