"""Headers of every answer, and requests that are wrong before a view sees them."""

import pytest
from django.test import Client
from django.urls import reverse

from athletes.tokens.services import issue_token
from tests.conftest import Cast


@pytest.mark.parametrize("path", ["/desk/", "/api/v1/me/", "/nothing/"])
def test_what_was_made_for_somebody_is_stored_by_no_cache(
    client: Client, cast: Cast, path: str
) -> None:
    """RFC 9111, section 5.2.2: private and no-store."""
    client.force_login(cast.coach)
    assert client.get(path).headers["Cache-Control"] == "private, no-store"


def test_so_it_is_for_a_program(client: Client, cast: Cast) -> None:
    _, secret = issue_token(user=cast.coach, name="x", scopes=["club:read"], days=1)
    answer = client.get("/api/v1/me/", headers={"Authorization": f"Bearer {secret}"})
    assert answer.status_code == 200
    assert answer.headers["Cache-Control"] == "private, no-store"


def test_a_view_that_says_otherwise_is_heard(client: Client, cast: Cast) -> None:
    client.force_login(cast.coach)
    assert client.get(reverse("training-worker")).headers["Cache-Control"] == "no-cache"


def test_nobody_in_particular_is_told_nothing_of_it(client: Client) -> None:
    assert "Cache-Control" not in client.get("/health/live").headers


def test_a_page_uses_no_sensor_of_the_machine(client: Client, cast: Cast) -> None:
    client.force_login(cast.coach)
    policy = client.get("/desk/").headers["Permissions-Policy"]
    assert {"camera=()", "microphone=()", "geolocation=()"} <= set(policy.split(", "))
    for needed in ("screen-wake-lock", "publickey-credentials", "fullscreen", "autoplay"):
        assert needed not in policy
    assert "Permissions-Policy" not in client.get("/api/v1/me/").headers


@pytest.mark.parametrize("path", ["/", "/accounts/login/", "/nothing/", "/api/v1/me/"])
def test_a_name_that_is_not_ours_is_a_wrong_request(client: Client, db: None, path: str) -> None:
    client.raise_request_exception = False
    answer = client.get(path, headers={"host": "elsewhere.example"})
    assert answer.status_code == 400


@pytest.mark.parametrize("depth", [40, 900, 100_000])
@pytest.mark.parametrize("pair", ["[]", '{"a":}'])
def test_json_nested_without_end_is_a_wrong_request(
    client: Client, cast: Cast, depth: int, pair: str
) -> None:
    client.force_login(cast.coach)
    client.raise_request_exception = False
    body = pair[:-1] * depth + "1" + pair[-1] * depth
    answer = client.post("/api/v1/invitations/", body, content_type="application/json")
    assert answer.status_code == 400
    assert answer.json()["detail"] == "This JSON is nested too deeply."
