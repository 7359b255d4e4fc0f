"""A max that a coach sets, and what it does to the estimates."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client
from django.urls import reverse

from athletes.local_time import today_of
from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.logs.models import DirtyDay, MaxKind, MaxRecord
from programming.logs.selectors.current_maxes import Max, current_max
from programming.logs.services.refresh_maxes import rebuild_maxes
from programming.logs.services.set_max import set_max
from programming.logs.unusual_load import UnusualLoad
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, lifted, squat

pytestmark = pytest.mark.django_db


def set_it(cast: Cast, kg: str, offset: int, kind: str = "best", **more: Any) -> MaxRecord:
    given = {"reason": "A meet", "load_confirmed": True, **more}
    return set_max(by=cast.coach, athlete=cast.athlete, movement=squat(), kind=kind,
                       kg=Decimal(kg), day=day(offset), **given)  # fmt: skip


def at(cast: Cast, offset: int, kind: str = "best") -> Max | None:
    return current_max(athlete=cast.athlete, movement=squat(), kind=kind, day=day(offset))


def test_it_takes_the_place_of_what_stood_and_gives_way_to_a_later_set(cast: Cast) -> None:
    for offset, load in [(0, "150"), (5, "145"), (8, "148"), (9, "152")]:
        lifted(cast.athlete, day(offset), load, 1, "10")
    rebuild_maxes(athlete=cast.athlete)
    set_it(cast, "140", 5, reason="Back after six weeks away")
    loads = [found and found.kg for found in (at(cast, n) for n in (-1, 0, 4, 5, 7, 8, 9))]
    assert loads == [None, 150, 150, 140, 140, 148, 152]
    five = at(cast, 5)
    assert five is not None
    assert five.by_hand
    assert five.reason == "Back after six weeks away"


def test_the_kinds_stay_apart(cast: Cast) -> None:
    set_it(cast, "140", 0, kind=MaxKind.TECHNICAL)
    assert at(cast, 0, MaxKind.BEST) is None
    assert at(cast, 0, MaxKind.TECHNICAL) is not None


def test_what_was_set_is_never_rewritten(cast: Cast) -> None:
    set_it(cast, "140", 0)
    set_it(cast, "142.5", 0)
    found = at(cast, 0)
    assert found is not None
    assert found.kg == Decimal("142.5")
    first = MaxRecord.objects.order_by("pk")[0]
    first.kg = Decimal(200)
    with pytest.raises(ValueError, match="never rewritten"):
        first.save()


def test_relative_volume_of_the_days_after_is_asked_for_again(cast: Cast) -> None:
    for offset in (0, 3, 6):
        lifted(cast.athlete, day(offset), "100", 3, "7")
    rebuild_maxes(athlete=cast.athlete)
    DirtyDay.objects.all().delete()
    set_it(cast, "150", 2)
    touched = set(DirtyDay.objects.values_list("day", flat=True))
    assert touched == {day(3), day(6)}


@pytest.mark.parametrize(
    ("kg", "ahead", "reason", "why"),
    [("0", 0, "x", "cannot be right"), ("1600", 0, "x", "cannot be right"),
     ("140", 1, "x", "today or"), ("140", 0, "  ", "Say why")],
)  # fmt: skip
def test_refused(cast: Cast, kg: str, ahead: int, reason: str, why: str) -> None:
    on = today_of(cast.athlete) + timedelta(days=ahead)
    with pytest.raises(Invalid, match=why):
        set_max(by=cast.coach, athlete=cast.athlete, movement=squat(), kind="best",
                    kg=Decimal(kg), day=on, reason=reason)  # fmt: skip
    assert not MaxRecord.objects.exists()


QUESTION = "250\u2009kg is 19% above the 210\u2009kg known for this lift. Is that load right?"


@pytest.fixture
def single(cast: Cast) -> None:
    """210 kg once, at RPE 10."""
    lifted(cast.athlete, day(0), "210", 1, "10")
    rebuild_maxes(athlete=cast.athlete)


@pytest.mark.usefixtures("single")
@pytest.mark.parametrize("kind", MaxKind.values)
def test_far_above_what_is_known_it_is_asked_about(cast: Cast, kind: str) -> None:
    """1.15 x 210 = 241.5."""
    assert set_it(cast, "241.5", 1, kind, load_confirmed=False).kg == Decimal("241.5")
    MaxRecord.objects.filter(source="hand").delete()
    with pytest.raises(UnusualLoad, match="is 19% above the 210\u2009kg known"):
        set_it(cast, "250", 1, kind, load_confirmed=False)
    assert not MaxRecord.objects.filter(source="hand").exists()
    assert set_it(cast, "250", 1, kind).kg == 250


@pytest.mark.usefixtures("single")
def test_what_is_known_is_what_was_known_on_that_day(cast: Cast) -> None:
    set_it(cast, "150", 5, reason="Back after six weeks away")
    with pytest.raises(UnusualLoad, match="150\u2009kg known"):
        set_it(cast, "180", 6, load_confirmed=False)
    assert set_it(cast, "180", 4, load_confirmed=False).kg == 180


def test_of_a_movement_without_a_max_or_a_set_nothing_is_asked(cast: Cast) -> None:
    assert set_it(cast, "300", 0, load_confirmed=False).kg == 300


@pytest.mark.usefixtures("single")
def test_the_page_asks_beside_the_button_and_keeps_what_was_typed(
    client: Client, cast: Cast
) -> None:
    client.force_login(cast.coach)
    url = reverse("max-history", args=[cast.athlete.pk, squat().pk])
    form = {"kind": "best", "load": "250", "day": "2026-11-20", "reason": "Saturday's meet"}
    page = client.post(url, form)
    assert page.status_code == 422
    text = page.content.decode()
    assert QUESTION in text
    assert "Yes, 250\u2009kg" in text
    assert 'value="250"' in text
    assert "Saturday&#x27;s meet" in text
    assert not MaxRecord.objects.filter(source="hand").exists()
    other = client.post(url, {**form, "load": "300", "load_confirmed": "250"})
    assert other.status_code == 422, "yes was said to another load"
    assert "Yes, 300\u2009kg" in other.content.decode()
    assert client.post(url, {**form, "load_confirmed": "250"}).status_code == 302
    assert MaxRecord.objects.get(source="hand").kg == 250


@pytest.mark.usefixtures("single")
def test_the_page_asks_a_coach_in_pounds(client: Client, cast: Cast) -> None:
    """210 kg are 463.0 lb (0.45359237 kg each, 1959)."""
    User.objects.filter(pk=cast.coach.pk).update(unit="lb")
    client.force_login(cast.coach)
    url = reverse("max-history", args=[cast.athlete.pk, squat().pk])
    form = {"kind": "best", "load": "551", "day": "2026-11-20", "reason": "A meet"}
    text = client.post(url, form).content.decode()
    assert "551\u2009lb is 19% above the 463\u2009lb known" in text


@pytest.mark.usefixtures("single")
def test_the_api_asks_with_the_same_sentence(client: Client, cast: Cast) -> None:
    client.force_login(cast.coach)
    body = {"athlete": cast.athlete.pk, "movement": squat().pk, "kind": "best", "kg": "250",
            "day": "2026-11-20", "reason": "A meet"}  # fmt: skip
    url = reverse("api-maxes")
    answer = client.post(url, body, content_type="application/json")
    assert (answer.status_code, answer.json()["detail"]) == (422, QUESTION)
    assert answer.json()["errors"] == {"load_confirmed": [QUESTION]}
    body["load_confirmed"] = True
    assert client.post(url, body, content_type="application/json").status_code == 201
