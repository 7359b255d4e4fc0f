"""By API what the pages of programmes and logs do: the same use cases, the same sentences."""

import pytest
from rest_framework.test import APIClient

from programming.models import LoggedSet, Movement, Prescription
from programming.plans.services.share_calendar import athlete_behind
from tests.conftest import Cast
from tests.programming.plans.build import a_programme, a_row

pytestmark = pytest.mark.django_db
LOG = "date,movement,load kg,reps\n2026-01-05,Row,60,8\n2026-01-07,Row,62.5,8\n"


def client_of(user) -> APIClient:
    client = APIClient()
    client.force_authenticate(user)
    return client


def test_a_calendar_address_is_told_once_and_the_one_before_is_shut(cast: Cast) -> None:
    client = client_of(cast.athlete)
    assert client.get("/api/v1/me/calendar/").json() == {"made_at": None}
    first, second = (client.post("/api/v1/me/calendar/").json()["address"] for _ in range(2))
    behind = [athlete_behind(it.rsplit("/", 1)[-1].removesuffix(".ics")) for it in (first, second)]
    assert behind == [None, cast.athlete]
    assert "address" not in client.get("/api/v1/me/calendar/").json()
    assert client.delete("/api/v1/me/calendar/").status_code == 204
    assert athlete_behind(second.rsplit("/", 1)[-1].removesuffix(".ics")) is None


def test_plates_are_told_and_refused_as_on_their_page(cast: Cast) -> None:
    client = client_of(cast.coach)
    address = f"/api/v1/people/{cast.athlete.pk}/plates/"
    assert client.get(address).json()["told"] is False
    told = client.put(address, {"unit": "kg", "bar": "20", "pairs": "5x1, 10x1"}, format="json")
    assert told.json()["pairs"] == "10x1, 5x1"
    assert told.json()["loads"] == ["20", "30", "40", "50"]
    wrong = client.put(address, {"unit": "kg", "bar": "20", "pairs": "many"}, format="json")
    assert wrong.status_code == 400
    assert client.get(address).json()["pairs"] == "10x1, 5x1"


def test_a_copied_week_is_shown_before_it_is_placed(cast: Cast) -> None:
    programme = a_programme(cast.coach, None)
    a_row(programme, "3x5 100kg", every_week=False)
    client = client_of(cast.coach)
    address = f"/api/v1/programmes/{programme.pk}/copied-week/"
    shown = client.get(address, {"week": 1, "to_week": 2, "add": "2.5"}).json()["sessions"]
    assert [line["target"] for one in shown for line in one["prescriptions"]] == ["102.500"]
    assert Prescription.objects.count() == 1, "nothing is placed"
    assert all(one["is_new"] is False for one in shown)
    refused = client.get(address, {"week": 3, "to_week": 1})
    assert refused.status_code == 422
    assert refused.json()["detail"] == "That week is empty: there is nothing to copy."


def test_a_movement_is_rebuilt_for_one_athlete(cast: Cast) -> None:
    parent = Movement.objects.filter(club=None).first()
    told = {"athlete": cast.athlete.pk, "name": "Squat, from the ground up"}
    address = f"/api/v1/movements/{parent.pk}/rebuild/"
    made = client_of(cast.coach).post(address, told, format="json")
    assert made.status_code == 201
    assert (made.json()["parent"], made.json()["athlete"]) == (parent.pk, cast.athlete.pk)
    foreign = client_of(cast.stranger).post(address, told, format="json")
    assert foreign.status_code == 400, "an athlete of another club is no choice"


def test_an_old_log_is_read_first_then_brought_in_whole_or_not_at_all(cast: Cast) -> None:
    client = client_of(cast.athlete)
    read = client.post("/api/v1/log/import/", {"text": LOG}, format="json").json()
    assert (read["sessions"], read["is_in"], LoggedSet.objects.count()) == (2, False, 0)
    assert [it["tells"] for it in read["columns"]] == ["date", "movement", "load", "reps"]
    assert read["movements"] == [{"name": "Row", "movement": "new", "sets": 2}]
    row = Movement.objects.get(club=None, name="Barbell row")
    told = {"text": LOG, "bring_in": True, "movements": {"Row": str(row.pk)}}
    broken = client.post("/api/v1/log/import/", {**told, "text": f"{LOG}soon,Row,1,1\n"}, "json")
    assert (broken.status_code, LoggedSet.objects.count()) == (422, 0)
    assert client.post("/api/v1/log/import/", told, format="json").json()["is_in"]
    assert list(LoggedSet.objects.values_list("movement", flat=True)) == [row.pk] * 2
    again = client.post("/api/v1/log/import/", told, format="json").json()
    assert (again["left_out"], LoggedSet.objects.count()) == (["2026-01-05", "2026-01-07"], 2)
    file = client_of(cast.coach).get(f"/api/v1/people/{cast.athlete.pk}/log.csv")
    assert file.headers["Content-Type"].startswith("text/csv")
    assert b"".join(file.streaming_content).count(b"Barbell row") == 2
