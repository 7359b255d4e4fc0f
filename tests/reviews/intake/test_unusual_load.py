"""A load on a clip that is far above what is known is asked about before it is stored."""

from decimal import Decimal
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from athletes.models import User
from programming.logs.unusual_load import UnusualLoad
from reviews.intake import clips, submitting
from reviews.intake.models import Clip
from tests.conftest import Cast
from tests.programming.logs.rows import a_session, a_set, movement

pytestmark = pytest.mark.django_db
QUESTION = "250\u2009kg is 19% above the 210\u2009kg known for this lift. Is that load right?"
HEAVY = {"value": "250", "unit": "kg"}


@pytest.fixture
def athlete(cast: Cast) -> User:
    """Squatted 210 kg once, with the bar low."""
    a_set(a_session(cast.athlete), load=Decimal(210), reps=1, rpe=Decimal(10))
    return cast.athlete


def make_clip(athlete: User, *, load_confirmed: bool = False, **changes: Any) -> Clip:
    clip = clips.add_clip(submission=submitting.open_draft(athlete=athlete), unit="kg")
    told = {"movement": movement(), **changes}
    return clips.save_clip(clip=clip, changes=told, load_confirmed=load_confirmed)


def save(client: Client, clip: Clip, **fields: Any) -> Any:
    client.force_login(clip.submission.athlete)
    url = reverse("api-clip", args=[clip.pk])
    return client.patch(url, fields, content_type="application/json")


def test_by_api_it_is_refused_until_it_is_confirmed(client: Client, athlete: User) -> None:
    clip = make_clip(athlete)
    answer = save(client, clip, load=HEAVY)
    assert (answer.status_code, answer.json()["detail"]) == (422, QUESTION)
    assert answer.json()["errors"] == {"load_confirmed": [QUESTION]}
    clip.refresh_from_db()
    assert clip.load_kg is None
    assert save(client, clip, load=HEAVY, load_confirmed=True).status_code == 204
    clip.refresh_from_db()
    assert clip.load_kg == 250


def test_what_else_was_typed_with_it_is_not_stored_either(client: Client, athlete: User) -> None:
    clip = make_clip(athlete)
    save(client, clip, load=HEAVY, reps="3")
    clip.refresh_from_db()
    assert (clip.load_kg, clip.reps) == (None, None)


@pytest.mark.parametrize(("load", "asked"), [("241.5", False), ("241.501", True), ("20", False)])
def test_the_limit_is_115_per_cent(athlete: User, load: str, asked: bool) -> None:
    """1.15 x 210 = 241.5."""
    clip = make_clip(athlete)
    changes = {"load_kg": Decimal(load), "load_unit": "kg"}
    if asked:
        with pytest.raises(UnusualLoad, match="Is that load right"):
            clips.save_clip(clip=clip, changes=changes)
    else:
        assert clips.save_clip(clip=clip, changes=changes).load_kg == Decimal(load)


def test_it_is_asked_in_the_unit_that_was_typed(client: Client, athlete: User) -> None:
    """210 kg are 463.0 lb (0.45359237 kg each, 1959)."""
    answer = save(client, make_clip(athlete), load={"value": "551", "unit": "lb"})
    assert "551\u2009lb is 19% above the 463\u2009lb known" in answer.json()["detail"]


def test_a_movement_chosen_after_the_load_is_asked_about(client: Client, athlete: User) -> None:
    clip = make_clip(athlete, movement=None, load_kg=Decimal(250))
    answer = save(client, clip, movement=movement().pk)
    assert answer.json()["errors"] == {"load_confirmed": [QUESTION]}
    clip.refresh_from_db()
    assert clip.movement is None
    assert save(client, clip, movement=movement().pk, load_confirmed=True).status_code == 204


def test_of_another_movement_nothing_is_known(athlete: User) -> None:
    clip = make_clip(athlete, movement=movement("Conventional deadlift"), load_kg=Decimal(250))
    assert clip.load_kg == 250


def test_what_was_confirmed_once_is_not_asked_again(athlete: User) -> None:
    """Another field of the clip, the same load again, and the next clip of the question."""
    clip = make_clip(athlete, load_kg=Decimal(250), load_confirmed=True)
    assert clips.save_clip(clip=clip, changes={"reps": 2}).reps == 2
    same = {"movement": movement(), "load_kg": Decimal(250), "load_unit": "kg"}
    assert clips.save_clip(clip=clip, changes=same).load_kg == 250
    assert make_clip(athlete, load_kg=Decimal(255)).load_kg == 255
    with pytest.raises(UnusualLoad, match="known"):
        clips.save_clip(clip=clip, changes={"load_kg": Decimal(300)})


def test_nobody_elses_loads_are_known(athlete: User, cast: Cast) -> None:
    assert make_clip(cast.other_athlete, load_kg=Decimal(300)).load_kg == 300


def test_a_lighter_clip_of_a_new_lift_is_nothing_known(cast: Cast) -> None:
    make_clip(cast.athlete, load_kg=Decimal(120))
    assert make_clip(cast.athlete, load_kg=Decimal(150)).load_kg == 150
