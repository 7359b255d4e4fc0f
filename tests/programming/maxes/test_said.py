"""How a max is said and drawn."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.test import Client

from programming.logs.range_chart import EDGE, WIDTH, range_chart_of
from programming.logs.selectors.current_maxes import Max
from programming.logs.selectors.max_table import lines_of
from programming.logs.services.refresh_maxes import rebuild_maxes
from programming.models import Movement
from programming.templatetags.maxes import how_found, max_label
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, judged, squat

INPUTS = {"equation": "Wathan", "load": "140", "reps": 3, "rpe": "8.5", "day": "2026-11-02",
          "set": "", "clip": "x", "to_failure": [4, 5], "at_least": False}  # fmt: skip


def a_max(kg: str, low: str, high: str, source: str = "estimate", **more: Any) -> Max:
    inputs = {**INPUTS, **more.pop("inputs", {})} if source == "estimate" else {}
    return Max(kg=Decimal(kg), low_kg=Decimal(low), high_kg=Decimal(high), kind="best",
               source=source, day=date(2026, 11, 2), inputs=inputs, **more)  # fmt: skip


@pytest.mark.parametrize(
    ("found", "unit", "words"),
    [
        (a_max("155", "150", "160"), "kg", "155 kg, could be 150 to 160"),
        # The pound is 0.45359237 kg by definition (1959): 155 kg are 341.7 lb.
        (a_max("155", "150", "160"), "lb", "342 lb, could be 331 to 353"),
        (a_max("150", "150", "150"), "kg", "150 kg, lifted"),
        (a_max("102.058", "102.058", "102.058"), "lb", "225 lb, lifted"),
        (
            a_max("117", "112.5", "119", inputs={"at_least": True, "rpe": None}),
            "kg",
            "117 kg, at least; could be more",
        ),
        (
            a_max("140", "140", "140", "hand", reason="A meet"),
            "kg",
            "140 kg, set by hand, 2 Nov 2026",
        ),
    ],
)
def test_a_max_says_how_sure_it_is(found: Max, unit: str, words: str) -> None:
    assert max_label(found, unit) == words


def test_how_it_was_found_names_set_reps_and_formula() -> None:
    text = " ".join(how_found(a_max("160.5", "152.5", "167"), "kg"))
    for words in ("140", "× 3", "RPE 8.5", "2 Nov 2026", "reviewed", "4 to 5 to failure", "Wathan"):
        assert words in text


def test_both_marks_share_one_scale_that_does_not_begin_at_zero() -> None:
    track = range_chart_of(a_max("155", "150", "160"), a_max("170", "165", "175"))
    assert track is not None
    assert track.technical is not None
    assert track.best is not None
    assert EDGE < track.technical.low < track.technical.at < track.technical.high
    assert track.technical.high < track.best.low < track.best.at < track.best.high < WIDTH - EDGE
    assert range_chart_of(None, None) is None


def test_an_open_end_reaches_the_edge_and_a_lone_single_stands_in_the_middle() -> None:
    open_end = range_chart_of(None, a_max("117", "112.5", "119", inputs={"at_least": True}))
    assert open_end is not None
    assert open_end.best is not None
    assert open_end.best.high == WIDTH - EDGE
    single = range_chart_of(a_max("150", "150", "150"), None)
    assert single is not None
    assert single.technical is not None
    assert single.technical.at == pytest.approx(WIDTH / 2)


@pytest.mark.django_db
def test_the_file_shows_both_and_how_each_was_found(client: Client, cast: Cast) -> None:
    judged(cast.athlete, day(0), "140", "sss", "9")
    judged(cast.athlete, day(1), "155", "ssn", "9")
    rebuild_maxes(athlete=cast.athlete)
    client.force_login(cast.coach)
    page = " ".join(client.get(f"/people/{cast.athlete.pk}/file/").content.decode().split())
    for words in ("158", "163", "1 of 2 filmed sets to standard", "RPE 9 on 2 Nov 2026"):
        assert words in page
    history = client.get(f"/people/{cast.athlete.pk}/maxes/{squat().pk}/").content.decode()
    assert "36 w / (37 - r)" in history  # every formula stands beside what it makes of the set


@pytest.mark.django_db
def test_more_movements_and_years_cost_no_more_statements(
    cast: Cast, django_assert_num_queries
) -> None:
    for movement in Movement.objects.all()[:8]:
        for n in range(5):
            judged(cast.athlete, day(n), str(100 + n), "sss", "9", movement=movement)
    rebuild_maxes(athlete=cast.athlete)
    with django_assert_num_queries(3):
        lines = lines_of(cast.athlete, day(365))
        assert len([line.movement.parent for line in lines]) == 8
