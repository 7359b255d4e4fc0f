"""Tokens: kept as digests, within their scope, ended at once, counted each for itself."""

from datetime import timedelta

import pytest
from django.test import Client
from django.utils import timezone

from athletes.tokens.models import ApiToken
from athletes.tokens.services import issue_token, revoke_token
from athletes.tokens.throttles import TokenThrottle
from coachdesk.api.scopes import area_of
from coachdesk.common.errors import Invalid
from tests.access.routes import routes
from tests.conftest import Cast


def bearer(secret: str) -> dict[str, str]:
    return {"Authorization": f"Bearer {secret}"}


@pytest.fixture
def token(cast: Cast) -> tuple[ApiToken, str]:
    return issue_token(user=cast.coach, name="Desk lamp", scopes=["club:read"], days=30)


def test_a_token_is_its_person(client: Client, cast: Cast, token) -> None:
    told = client.get("/api/v1/me/", headers=bearer(token[1])).json()
    assert told["id"] == cast.coach.pk
    assert told["scopes"] == ["club:read"]
    kept = ApiToken.objects.get()
    assert token[1] not in (kept.digest, str(kept.__dict__))
    assert kept.last_used_on == timezone.now().date()


def test_scope_ends_where_it_says(client: Client, token) -> None:
    assert client.get("/api/v1/people/", headers=bearer(token[1])).status_code == 200
    for method, path in (("post", "/api/v1/invitations/"), ("get", "/api/v1/library/")):
        answer = getattr(client, method)(path, headers=bearer(token[1]))
        assert answer.status_code == 403
        assert "needs the scope" in answer.json()["detail"]


def test_writing_includes_reading() -> None:
    assert ApiToken(scopes=["log:write"]).allows("log", "read")
    assert not ApiToken(scopes=["log:read"]).allows("log", "write")


@pytest.mark.parametrize("why", ["revoked", "run out", "closed", "guessed", "two words", "letters"])
def test_what_is_no_token_gets_a_challenge(client: Client, cast: Cast, token, why: str) -> None:
    """RFC 6750 section 3: 401 and WWW-Authenticate: Bearer."""
    made, secret = token
    if why == "revoked":
        assert revoke_token(user=cast.coach, token_id=made.pk)
        assert not revoke_token(user=cast.coach, token_id=made.pk)
    elif why == "run out":
        ApiToken.objects.update(expires_at=timezone.now() - timedelta(seconds=1))
    elif why == "closed":
        type(cast.coach).objects.filter(pk=cast.coach.pk).update(is_active=False)
    else:
        secret = {"guessed": secret[:-1] + "~", "two words": "a b", "letters": "é"}[why]
    answer = client.get("/api/v1/me/", headers=bearer(secret))
    assert answer.status_code == 401
    assert answer.headers["WWW-Authenticate"].startswith("Bearer")
    assert answer.headers["Content-Type"] == "application/problem+json"


def test_nobody_ends_the_token_of_another(cast: Cast, token) -> None:
    assert not revoke_token(user=cast.owner, token_id=token[0].pk)


def test_the_secret_is_shown_once(client: Client, cast: Cast) -> None:
    client.force_login(cast.athlete)
    page = client.post("/me/tokens/", {"name": "Watch", "days": 7, "log": "write"})
    secret = page.context["secret"]
    assert secret in page.content.decode()
    assert client.get("/api/v1/me/", headers=bearer(secret)).json()["scopes"] == ["log:write"]
    again = client.get("/me/tokens/")
    assert "Watch" in again.content.decode()
    assert secret not in again.content.decode()
    client.post(f"/me/tokens/{ApiToken.objects.get().pk}/end/")
    assert Client().get("/api/v1/me/", headers=bearer(secret)).status_code == 401


def test_nothing_wrong_is_issued(cast: Cast) -> None:
    for wrong in ({"name": " "}, {"scopes": ["all:write"]}, {"days": 0}, {"days": 366}):
        with pytest.raises(Invalid):
            issue_token(
                user=cast.coach, **{"name": "x", "scopes": ["log:read"], "days": 1, **wrong}
            )  # type: ignore[arg-type]


def test_too_often_says_when_to_come_back(client: Client, token, monkeypatch) -> None:
    """RFC 6585 section 4: 429 with Retry-After."""
    monkeypatch.setattr(TokenThrottle, "rate", "2/min", raising=False)
    got = [client.get("/api/v1/me/", headers=bearer(token[1])) for _ in range(3)]
    assert [one.status_code for one in got] == [200, 200, 429]
    assert 0 < int(got[2].headers["Retry-After"]) <= 60
    assert got[2].json()["status"] == 429


def test_every_route_of_the_api_has_an_area() -> None:
    views = [(name, entry.callback) for name, entry in routes() if name.startswith("api-")]
    classes = [view.cls for _, view in views if hasattr(view, "cls")]
    assert len(classes) > 15
    for one in classes:
        area_of(one())
