"""Facts of the trade that the maxes keep to. Each: common practice, no source."""

from datetime import date
from decimal import Decimal

import pytest

from programming.logs.models import MaxKind
from programming.logs.selectors.current_maxes import current_max
from programming.logs.services.refresh_maxes import rebuild_maxes
from programming.movements.services import rebuild_movement
from programming.plans.resolving import TECHNICAL, Asked, Resolved
from programming.plans.selectors.loads import loads_of
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, judged, lifted, squat

pytestmark = pytest.mark.django_db


def technical(cast: Cast) -> Decimal | None:
    rebuild_maxes(athlete=cast.athlete)
    found = current_max(athlete=cast.athlete, movement=squat(), kind=MaxKind.TECHNICAL, day=day(99))
    return None if found is None else found.kg


@pytest.mark.parametrize("load", ["60", "150", "400"])
@pytest.mark.parametrize("calls", ["n", "ssn", "nss"])
def test_a_rep_that_loses_the_position_is_a_missed_rep_however_heavy(
    cast: Cast, load: str, calls: str
) -> None:
    judged(cast.athlete, day(0), "100", "s", "10")
    judged(cast.athlete, day(1), load, calls, "10")
    assert technical(cast) == 100


def test_a_rep_missed_in_the_log_breaks_the_set_as_well(cast: Cast) -> None:
    in_log = lifted(cast.athlete, day(0), "150", 2, "10", missed=1)
    judged(cast.athlete, day(0), "150", "ssc", "10", logged=in_log)
    assert technical(cast) is None


def test_every_percentage_follows_the_rebuilt_movements_own_max(cast: Cast) -> None:
    judged(cast.athlete, day(0), "180", "s", "10")
    new = rebuild_movement(athlete=cast.athlete, parent=squat(), name="Low-bar squat, rebuilt")
    rebuild_maxes(athlete=cast.athlete)

    def eighty_percent(on: date) -> Resolved:
        asked = Asked(TECHNICAL, Decimal(80), reps=3)
        return loads_of(cast.athlete).resolve(asked, new.pk, on, "kg")

    assert eighty_percent(day(5)).kg is None
    judged(cast.athlete, day(6), "100", "s", "10", movement=new)
    rebuild_maxes(athlete=cast.athlete)
    assert eighty_percent(day(5)).kg is None
    assert eighty_percent(day(6)).kg == 80
    judged(cast.athlete, day(13), "110", "s", "10", movement=new)
    rebuild_maxes(athlete=cast.athlete)
    assert eighty_percent(day(6)).kg == 80
    assert eighty_percent(day(13)).exact_kg == 88
