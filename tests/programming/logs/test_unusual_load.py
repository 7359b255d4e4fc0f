"""A load far above what is known is asked about before it is stored, however it comes."""

from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.test import Client
from django.urls import reverse

from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.logs.models import ImportDraft, LoggedSet, MaxRecord
from programming.logs.services.summarize_days import summarize_dirty_days
from programming.plans.schemas import training_day_data
from tests.conftest import Cast
from tests.programming.logs.rows import NOON, a_session, a_set, movement

pytestmark = pytest.mark.django_db
QUESTION = "250\u2009kg is 19% above the 210\u2009kg known for this lift. Is that load right?"


@pytest.fixture
def athlete(cast: Cast) -> User:
    """Squatted 210 kg once, at RPE 10."""
    session = a_session(cast.athlete)
    a_set(session, load=Decimal(210), reps=1, rpe=Decimal(10))
    summarize_dirty_days(cast.athlete.pk)
    return cast.athlete


def put(client: Client, athlete: User, body: dict[str, Any]) -> Any:
    session = a_session(athlete)
    client.force_login(athlete)
    url = reverse("api-log-set", args=[session.pk, uuid4()])
    usual = {"revision": 1, "movement": movement().pk, "reps": 1, "done_at": NOON.isoformat()}
    return client.put(url, {**usual, **body}, content_type="application/json")


def test_by_api_it_is_refused_until_it_is_said_to_be_meant(client: Client, athlete: User) -> None:
    answer = put(client, athlete, {"load": "250"})
    assert (answer.status_code, answer.json()["detail"]) == (422, QUESTION)
    assert answer.json()["errors"] == {"load_confirmed": [QUESTION]}
    assert not LoggedSet.objects.filter(load_kg=250).exists()
    assert put(client, athlete, {"load": "250", "load_confirmed": True}).status_code == 200
    assert LoggedSet.objects.filter(load_kg=250).exists()


@pytest.mark.parametrize(("load", "asked"), [("241.5", False), ("241.501", True), ("20", False)])
def test_the_limit_is_115_per_cent_of_the_max(athlete: User, load: str, asked: bool) -> None:
    """1.15 x 210 = 241.5."""
    session = a_session(athlete)
    if asked:
        with pytest.raises(Invalid, match="Is that load right"):
            a_set(session, load=Decimal(load))
    else:
        assert a_set(session, load=Decimal(load)).load_kg == Decimal(load)


def test_it_is_asked_in_the_unit_that_was_typed(athlete: User) -> None:
    """210 kg are 463.0 lb (0.45359237 kg each, 1959)."""
    with pytest.raises(Invalid, match="551\u2009lb is 19% above the 463\u2009lb known"):
        a_set(a_session(athlete), load=Decimal(551), unit="lb")


def test_what_was_meant_once_is_not_asked_again(athlete: User) -> None:
    """The next set of the session, and a change of the same set that leaves the load alone."""
    session = a_session(athlete)
    row = a_set(session, load=Decimal(250), load_confirmed=True)
    assert a_set(session, row.pk, revision=2, load=Decimal(250), reps=2).reps == 2
    assert a_set(session, load=Decimal(255)).load_kg == 255
    with pytest.raises(Invalid):
        a_set(session, row.pk, revision=3, load=Decimal(300))


def test_an_older_copy_that_comes_late_is_answered_and_not_asked(athlete: User) -> None:
    session = a_session(athlete)
    row = a_set(session, revision=4, load=Decimal(200))
    assert a_set(session, row.pk, revision=2, load=Decimal(250)).load_kg == 200


def test_a_max_set_by_hand_is_what_is_known(cast: Cast) -> None:
    """After a break a coach set it lower than what was once lifted."""
    a_set(a_session(cast.athlete), load=Decimal(210), reps=1, rpe=Decimal(10))
    MaxRecord.objects.create(
        athlete=cast.athlete, movement=movement(), kind="best", source="hand", day=NOON.date(),
        kg=150, low_kg=150, high_kg=150, reason="Back after six weeks away",
    )  # fmt: skip
    summarize_dirty_days(cast.athlete.pk)
    with pytest.raises(Invalid, match="150\u2009kg known"):
        a_set(a_session(cast.athlete), load=Decimal(180))


def test_without_a_max_it_is_the_heaviest_load_that_was_made(cast: Cast) -> None:
    session = a_session(cast.athlete)
    a_set(session, load=Decimal(60), reps=15)
    a_set(session, load=Decimal(65), reps=0, missed_reps=3)
    with pytest.raises(Invalid, match="60\u2009kg known"):
        a_set(a_session(cast.athlete), load=Decimal(70), reps=15)


def test_the_first_time_of_a_lift_nothing_is_asked(cast: Cast) -> None:
    assert a_set(a_session(cast.athlete), load=Decimal(300)).load_kg == 300


def test_nobody_elses_loads_are_known(athlete: User, cast: Cast) -> None:
    assert a_set(a_session(cast.other_athlete), load=Decimal(300)).load_kg == 300


def test_the_phone_gets_the_same_rule(athlete: User) -> None:
    told = training_day_data(athlete)["unusual"]
    assert told["known_kg"] == {str(movement().pk): "210"}
    assert told["above"] == "1.15"
    assert told["question"].endswith("Is that load right?")


FILE = "date,movement,load,unit,reps\n2026-11-20,Low-bar squat,250,kg,1\n2026-11-21,Yoke,300,kg,1\n"


def test_an_imported_file_is_asked_about_as_a_whole(client: Client, athlete: User) -> None:
    client.force_login(athlete)
    sent = {"text": FILE, "bring_in": True}
    url = reverse("api-log-import")
    refused = client.post(url, sent, content_type="application/json")
    assert refused.status_code == 422
    asked = f"Low-bar squat: {QUESTION}"
    assert refused.json()["detail"] == asked, "of a new lift nothing is known"
    assert refused.json()["errors"] == {"load_confirmed": [asked]}
    assert not LoggedSet.objects.filter(load_kg__in=(250, 300)).exists()
    sent["load_confirmed"] = True
    assert client.post(url, sent, content_type="application/json").status_code == 200
    assert LoggedSet.objects.filter(load_kg__in=(250, 300)).count() == 2


def test_the_page_of_an_import_asks_with_a_box_to_tick(client: Client, athlete: User) -> None:
    client.force_login(athlete)
    ImportDraft.objects.create(athlete=athlete, name="log.csv", text=FILE)
    page = client.post(reverse("log-import-check"), {"deed": "bring"})
    assert page.status_code == 422
    assert QUESTION in page.content.decode()
    client.post(reverse("log-import-check"), {"deed": "bring", "load_confirmed": "on"})
    assert LoggedSet.objects.filter(load_kg=250).exists()
