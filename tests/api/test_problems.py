"""Every error is a problem detail (RFC 9457), with the status in the body as on the line."""

import pytest
from django.test import Client, override_settings

from athletes.tokens.services import issue_token
from coachdesk.api.views import DocumentView
from tests.conftest import Cast

ME = "/api/v1/me/"


@pytest.fixture
def coach(client: Client, cast: Cast) -> Client:
    client.force_login(cast.coach)
    return client


def ask(client: Client, status: int) -> tuple:
    invite = "/api/v1/invitations/"
    return {
        400: ("POST", invite, {"data": "{", "content_type": "application/json"}),
        404: ("GET", "/api/v1/submissions/00000000-0000-0000-0000-000000000000/", {}),
        405: ("DELETE", ME, {}),
        406: ("GET", ME, {"headers": {"Accept": "text/turtle"}}),
        409: ("POST", invite, {"data": {"email": "mira.solheim@example.org"},
                               "content_type": "application/json"}),
        415: ("POST", invite, {"data": "a=b", "content_type": "text/plain"}),
    }[status]  # fmt: skip


@pytest.mark.parametrize("status", [400, 404, 405, 406, 409, 415])
def test_each_refusal_is_a_problem(coach: Client, status: int) -> None:
    method, path, more = ask(coach, status)
    answer = coach.generic(method, path, **more) if method == "DELETE" else getattr(
        coach, method.lower())(path, **more)  # fmt: skip
    _is_problem(answer, status)


def test_nobody_is_401_and_the_wrong_person_403(client: Client, cast: Cast) -> None:
    _is_problem(client.get(ME), 401)
    client.force_login(cast.athlete)
    _is_problem(client.get("/api/v1/desk/"), 403)


def test_wrong_input_is_told_by_field(coach: Client) -> None:
    answer = coach.post("/api/v1/invitations/", {"email": "x"}, "application/json")
    _is_problem(answer, 400)
    assert list(answer.json()["errors"]) == ["email"]


def test_an_address_of_nothing_is_a_problem_too(coach: Client) -> None:
    _is_problem(coach.get("/api/v1/nothing/"), 404)
    page = coach.get("/nothing/")
    assert page.headers["Content-Type"].startswith("text/html")


def test_what_breaks_here_tells_nothing(coach: Client, monkeypatch) -> None:
    monkeypatch.setattr(DocumentView, "get", lambda *args, **kwargs: 1 / 0)
    coach.raise_request_exception = False
    answer = coach.get("/api/v1/schema/")
    _is_problem(answer, 500)
    assert "division" not in answer.content.decode()


@override_settings(DATA_UPLOAD_MAX_MEMORY_SIZE=10)
def test_a_body_that_is_too_large_is_refused(cast: Cast, client: Client) -> None:
    _, secret = issue_token(user=cast.coach, name="x", scopes=["club:write"], days=1)
    headers = {"Authorization": f"Bearer {secret}", "Idempotency-Key": "k"}
    body = {"email": "long@example.org"}
    answer = client.post("/api/v1/invitations/", body, "application/json", headers=headers)
    _is_problem(answer, 400)


def _is_problem(answer, status: int) -> None:
    assert answer.status_code == status
    assert answer.headers["Content-Type"] == "application/problem+json"
    told = answer.json()
    assert told["status"] == status
    assert told["title"]
    assert told["detail"]
