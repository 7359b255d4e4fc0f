"""A max that a coach sets, and what it does to the estimates."""

from datetime import timedelta
from decimal import Decimal

import pytest

from athletes.local import today_of
from programming.logs.estimating import rebuild
from programming.logs.maxes import Max, current_max
from programming.logs.models import MaxKind, MaxRecord, TouchedDay
from programming.logs.setting_max import set_by_hand
from programming.refusals import Refused
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, lifted, squat

pytestmark = pytest.mark.django_db


def set_it(cast: Cast, kg: str, offset: int, kind: str = "best", reason: str = "A meet") -> None:
    set_by_hand(by=cast.coach, athlete=cast.athlete, movement=squat(), kind=kind,
                kg=Decimal(kg), day=day(offset), reason=reason)  # fmt: skip


def at(cast: Cast, offset: int, kind: str = "best") -> Max | None:
    return current_max(athlete=cast.athlete, movement=squat(), kind=kind, day=day(offset))


def test_it_takes_the_place_of_what_stood_and_gives_way_to_a_later_set(cast: Cast) -> None:
    for offset, load in [(0, "150"), (5, "145"), (8, "148"), (9, "152")]:
        lifted(cast.athlete, day(offset), load, 1, "10")
    rebuild(athlete=cast.athlete)
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
    rebuild(athlete=cast.athlete)
    TouchedDay.objects.all().delete()
    set_it(cast, "150", 2)
    touched = set(TouchedDay.objects.values_list("day", flat=True))
    assert touched == {day(3), day(6)}


@pytest.mark.parametrize(
    ("kg", "ahead", "reason", "why"),
    [("0", 0, "x", "cannot be right"), ("1600", 0, "x", "cannot be right"),
     ("140", 1, "x", "today or"), ("140", 0, "  ", "Say why")],
)  # fmt: skip
def test_refused(cast: Cast, kg: str, ahead: int, reason: str, why: str) -> None:
    on = today_of(cast.athlete) + timedelta(days=ahead)
    with pytest.raises(Refused, match=why):
        set_by_hand(by=cast.coach, athlete=cast.athlete, movement=squat(), kind="best",
                    kg=Decimal(kg), day=on, reason=reason)  # fmt: skip
    assert not MaxRecord.objects.exists()
