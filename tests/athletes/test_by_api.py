"""By API what the pages about people do: the same use cases, the same sentences."""

import pytest
from rest_framework.test import APIClient

from athletes.models import Role, User
from athletes.tokens.services import issue_token
from tests.conftest import Cast

pytestmark = pytest.mark.django_db


def client_of(user: User) -> APIClient:
    client = APIClient()
    client.force_authenticate(user)
    return client


def patched(user: User, address: str, told: dict[str, object]) -> tuple[int, dict[str, object]]:
    answer = client_of(user).patch(f"/api/v1/{address}", told, format="json")
    return answer.status_code, answer.json()


def test_one_changes_ones_own_page_in_parts(cast: Cast) -> None:
    status, me = patched(cast.coach, "me/", {"unit": "lb", "letter_keys": False})
    assert (status, me["unit"], me["letter_keys"], me["name"]) == (
        200,
        "lb",
        False,
        "Tove Lindqvist",
    )
    status, wrong = patched(cast.coach, "me/", {"timezone": "Mars/Olympus"})
    assert (status, list(wrong["errors"])) == (400, ["timezone"])
    cast.coach.refresh_from_db()
    assert (cast.coach.unit, cast.coach.timezone) == ("lb", me["timezone"])


def test_a_token_that_only_reads_says_who_and_changes_nothing(cast: Cast) -> None:
    _, secret = issue_token(user=cast.coach, name="reader", scopes=["club:read"], days=1)
    client = APIClient(headers={"Authorization": f"Bearer {secret}"})
    assert client.get("/api/v1/me/").status_code == 200
    assert client.patch("/api/v1/me/", {"unit": "lb"}, format="json").status_code == 403


def test_an_owner_gives_a_role_and_a_main_coach(cast: Cast) -> None:
    address = f"people/{cast.athlete.pk}/"
    status, person = patched(cast.owner, address, {"main_coach": cast.second_coach.pk})
    assert (status, person["main_coach"], person["role"]) == (200, cast.second_coach.pk, "athlete")
    status, _ = patched(cast.owner, address, {"main_coach": cast.stranger.pk})
    assert status == 400, "a coach of another club is no choice"
    status, person = patched(cast.owner, address, {"role": "coach"})
    assert (status, person["role"], person["main_coach"]) == (200, "coach", None)


def test_a_club_keeps_an_owner(cast: Cast) -> None:
    status, why = patched(cast.owner, f"people/{cast.owner.pk}/", {"role": "coach"})
    assert (status, "keeps at least one owner" in str(why["detail"])) == (409, True)
    closing = client_of(cast.owner).post(f"/api/v1/people/{cast.owner.pk}/close/")
    assert closing.status_code == 409
    cast.owner.refresh_from_db()
    assert (cast.owner.role, cast.owner.is_active) == (Role.OWNER, True)


def test_an_account_is_closed_with_its_tokens_and_brought_back(cast: Cast) -> None:
    _, secret = issue_token(user=cast.coach, name="all", scopes=["club:read"], days=1)
    token = APIClient(headers={"Authorization": f"Bearer {secret}"})
    owner = client_of(cast.owner)
    address = f"/api/v1/people/{cast.coach.pk}/"
    assert owner.post(f"{address}close/").json()["is_active"] is False
    assert token.get("/api/v1/me/").status_code == 401
    assert owner.post(f"{address}bring-back/").json()["is_active"] is True
    assert token.get("/api/v1/me/").status_code == 200
