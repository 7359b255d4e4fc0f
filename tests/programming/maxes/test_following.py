"""Estimated maxes follow the log: whatever the order of changes, they are what a rebuild gives."""

from datetime import date
from decimal import Decimal
from typing import Any

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from athletes.models import User
from programming.logs.models import DirtyDay, LoggedSet, MaxKind, MaxRecord, SetVerdict
from programming.logs.selectors.current_maxes import current_max
from programming.logs.services.reconcile_days import reconcile_maxes
from programming.logs.services.refresh_maxes import rebuild_maxes, refresh_days
from programming.logs.services.summarize_days import summarize_dirty_days
from tests.conftest import Cast
from tests.programming.maxes.lifting import day, judged, lifted, squat

pytestmark = pytest.mark.django_db

DAYS = st.integers(0, 6)
LOADS = st.sampled_from(["100", "120", "122.5", "140", "150.3"])
EFFORTS = st.sampled_from([None, "7", "8.5", "9.5", "10", "4"])
CHANGES = st.lists(
    st.one_of(
        st.tuples(st.just("log"), DAYS, LOADS, st.integers(1, 6), EFFORTS),
        st.tuples(st.just("judge"), DAYS, LOADS, st.sampled_from(["s", "sss", "ssn", "ssc"])),
        st.tuples(st.just("set"), DAYS, LOADS),
        st.tuples(st.just("take out"), st.integers(0, 5)),
        st.tuples(st.just("call again"), st.integers(0, 5)),
    ),
    max_size=7,
)


def change(athlete: User, what: tuple[Any, ...]) -> date | None:
    """Make it in the database; the day it was on."""
    kind, *rest = what
    if kind == "log":
        return lifted(athlete, day(rest[0]), rest[1], rest[2], rest[3]).session.day
    if kind == "judge":
        return judged(athlete, day(rest[0]), rest[1], rest[2], "9").day
    if kind == "set":
        kg = Decimal(rest[1])
        said = {"kg": kg, "low_kg": kg, "high_kg": kg, "reason": "after a meet", "source": "hand"}
        MaxRecord.objects.create(
            athlete=athlete, movement=squat(), kind="best", day=day(rest[0]), **said
        )
        return day(rest[0])
    if kind == "take out":
        found = list(LoggedSet.objects.order_by("session__day", "load_kg"))[rest[0] : rest[0] + 1]
        for one in found:
            one.delete()
            return one.session.day
    if kind == "call again":
        calls = list(SetVerdict.objects.order_by("day", "load_kg"))[rest[0] : rest[0] + 1]
        for verdict in calls:
            verdict.not_to_standard, verdict.to_standard = verdict.to_standard, 0
            verdict.save()
            return verdict.day
    return None


def records(athlete: User) -> list[tuple[Any, ...]]:
    rows = MaxRecord.objects.filter(athlete=athlete).order_by("kind", "day", "source", "kg")
    return list(rows.values_list("kind", "day", "source", "kg", "low_kg", "high_kg", "inputs"))


@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(CHANGES)
def test_step_by_step_is_what_a_rebuild_gives(cast: Cast, changes: list[tuple[Any, ...]]) -> None:
    with transaction.atomic():
        for what in changes:
            on = change(cast.athlete, what)
            if on is not None and what[0] != "set":
                refresh_days(athlete=cast.athlete, days=[on])
            elif on is not None:
                rebuild_maxes(athlete=cast.athlete)
        followed = records(cast.athlete)
        rebuild_maxes(athlete=cast.athlete)
        assert followed == records(cast.athlete)
        transaction.set_rollback(True)


def test_many_days_at_once_are_what_a_rebuild_gives(cast: Cast) -> None:
    days = [day(n) for n in range(12)]
    for n, on in enumerate(days):
        lifted(cast.athlete, on, str(100 + n % 5), 3, "9")
    refresh_days(athlete=cast.athlete, days=days)
    followed = records(cast.athlete)
    assert len(followed) == 5
    rebuild_maxes(athlete=cast.athlete)
    assert followed == records(cast.athlete)


def test_a_set_that_raises_nothing_reads_its_own_day_only(
    cast: Cast, django_assert_max_num_queries
) -> None:
    for n in range(40):
        lifted(cast.athlete, day(n), "100", 3, "9")
    rebuild_maxes(athlete=cast.athlete)
    before = set(MaxRecord.objects.values_list("pk", flat=True))
    lifted(cast.athlete, day(20), "90", 3, "9")
    with django_assert_max_num_queries(16):
        refresh_days(athlete=cast.athlete, days=[day(20)])
    assert set(MaxRecord.objects.values_list("pk", flat=True)) == before


def test_the_worker_brings_a_logged_set_into_the_max(cast: Cast) -> None:
    one = lifted(cast.athlete, day(0), "140", 3, "9")
    DirtyDay.objects.create(athlete=cast.athlete, day=day(0))
    summarize_dirty_days(cast.athlete.pk)
    best = {"athlete": cast.athlete, "movement": squat(), "kind": MaxKind.BEST, "day": day(1)}
    assert current_max(**best) is not None
    one.delete()
    DirtyDay.objects.create(athlete=cast.athlete, day=day(0))
    summarize_dirty_days(cast.athlete.pk)
    assert current_max(**best) is None


def test_the_nightly_proof_finds_and_mends_what_was_missed(
    cast: Cast, caplog: pytest.LogCaptureFixture
) -> None:
    lifted(cast.athlete, day(0), "140", 3, "9")
    rebuild_maxes(athlete=cast.athlete)
    right = records(cast.athlete)
    DirtyDay.objects.all().delete()
    assert reconcile_maxes([cast.athlete.pk]) == 0
    MaxRecord.objects.update(kg=Decimal(157))
    assert reconcile_maxes([cast.athlete.pk]) == 1
    assert records(cast.athlete) == right
    assert DirtyDay.objects.get().day == day(0)  # its relative volume follows
    assert "did not follow from the log" in caplog.text
    MaxRecord.objects.all().delete()
    assert reconcile_maxes([cast.athlete.pk]) == 0  # the day waits to be looked at anyhow
