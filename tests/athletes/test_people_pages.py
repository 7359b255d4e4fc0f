"""The people pages, as a coach, an owner and an athlete meet them."""

import pytest
from django.test import Client

from athletes.models import PainReport, User
from tests.conftest import Cast


@pytest.fixture
def as_owner(cast: Cast) -> Client:
    client = Client()
    client.force_login(cast.owner)
    return client


def test_the_list_shows_this_club_and_no_other(cast: Cast, as_owner: Client) -> None:
    page = as_owner.get("/people/").content.decode()
    assert all(person.name in page for person in [cast.athlete, cast.coach, cast.owner])
    assert cast.outsider.name not in page
    assert cast.stranger.name not in page


def test_search_finds_by_name_and_address(cast: Cast, as_owner: Client) -> None:
    for words in ("solheim", "MIRA sol", "mira.solheim@"):
        page = as_owner.get("/people/", {"q": words}).content.decode()
        assert cast.athlete.name in page
        assert cast.other_athlete.name not in page
    assert "Nobody called" in as_owner.get("/people/", {"q": "xyzzy"}).content.decode()


def test_the_list_costs_the_same_for_many(
    cast: Cast, as_owner: Client, django_assert_max_num_queries
) -> None:
    for n in range(30):
        User.objects.create_user(
            f"a{n}@example.org", None, name=f"A{n}", club=cast.owner.club, main_coach=cast.coach
        )
    with django_assert_max_num_queries(14):
        as_owner.get("/people/")


def test_an_owner_changes_role_and_main_coach(cast: Cast, as_owner: Client) -> None:
    path = f"/people/{cast.athlete.pk}/"
    answer = as_owner.post(path, {"role": "athlete", "main_coach": cast.second_coach.pk})
    assert answer.status_code == 302
    cast.athlete.refresh_from_db()
    assert cast.athlete.main_coach == cast.second_coach


def test_the_last_owner_is_told_why_not(cast: Cast, as_owner: Client) -> None:
    answer = as_owner.post(f"/people/{cast.owner.pk}/", {"role": "coach"})
    assert answer.status_code == 422
    assert b"keeps at least one owner" in answer.content
    answer = as_owner.post(f"/people/{cast.owner.pk}/deactivate/", follow=True)
    assert b"keeps at least one owner" in answer.content


def test_a_coach_reads_but_does_not_change(cast: Cast, client: Client) -> None:
    client.force_login(cast.coach)
    path = f"/people/{cast.athlete.pk}/"
    assert b"Place in the club" not in client.get(path).content
    assert client.post(path, {"role": "coach"}).status_code == 403


def test_pain_is_shown_with_the_caution(cast: Cast, client: Client) -> None:
    PainReport.objects.create(athlete=cast.athlete, where="left knee", score=6, signs=["weakness"])
    client.force_login(cast.coach)
    page = client.get(f"/people/{cast.athlete.pk}/").content.decode()
    assert "Pain: left knee 6 of 10" in page
    assert "getting weaker?" in page
    assert "coaching, not medical advice" in page


def test_an_athlete_is_sent_to_their_own_page(cast: Cast, client: Client) -> None:
    client.force_login(cast.athlete)
    assert client.get(f"/people/{cast.athlete.pk}/").headers["Location"] == "/me/"


def test_the_profile_changes_name_unit_and_zone(cast: Cast, client: Client) -> None:
    client.force_login(cast.athlete)
    facts = {"name": "Mira S.", "unit": "lb", "timezone": "America/Lima"}
    assert (
        client.post("/me/", {**facts, "role": "owner", "email": "x@example.org"}).status_code == 302
    )
    cast.athlete.refresh_from_db()
    assert (cast.athlete.name, cast.athlete.unit, cast.athlete.timezone) == (
        "Mira S.",
        "lb",
        "America/Lima",
    )
    assert (cast.athlete.role, cast.athlete.email) == ("athlete", "mira.solheim@example.org")


def test_a_page_shows_times_in_the_readers_zone(cast: Cast, client: Client) -> None:
    """23:30 UTC on 1 May is 2 May in Tokyo (UTC+9, no summer time; IANA database)."""
    from datetime import UTC, datetime

    User.objects.filter(pk=cast.coach.pk).update(timezone="Asia/Tokyo")
    User.objects.filter(pk=cast.athlete.pk).update(
        joined_at=datetime(2026, 5, 1, 23, 30, tzinfo=UTC)
    )
    client.force_login(cast.coach)
    assert b"2 May 2026" in client.get(f"/people/{cast.athlete.pk}/").content
