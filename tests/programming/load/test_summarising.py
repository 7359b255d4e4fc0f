"""Day summaries follow the log: touched days alone, in any order, whatever is killed."""

import random
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
import time_machine
from django.db import transaction

from athletes.local_time import today_of
from programming.logs import tasks
from programming.logs.models import DaySummary, DirtyDay, LoggedSession, MaxRecord, SummaryRepair
from programming.logs.selectors.load_history import history_of
from programming.logs.services import mark_dirty_days, summarize_days
from programming.logs.services.reconcile_days import reconcile_days
from programming.logs.services.summarize_days import FIGURES
from tests.conftest import Cast
from tests.programming.load.training import a_session, a_set, squat, weeks_of_training
from tests.programming.logs.rows import a_session as session_sent
from tests.programming.logs.rows import a_set as set_sent

MONDAY = date(2026, 11, 2)
pytestmark = pytest.mark.django_db


def stored(athlete) -> list[tuple]:
    rows = DaySummary.objects.filter(athlete=athlete).order_by("day", "family")
    return list(rows.values_list("day", "family", *FIGURES))


def touch(athlete, *days: date) -> None:
    for day in days:
        mark_dirty_days.mark_days_dirty(athlete, [day])


def a_max(athlete, day: date, kg: int) -> MaxRecord:
    return MaxRecord.objects.create(
        athlete=athlete, movement=squat(), kind="best", source="hand", day=day, kg=kg, low_kg=kg,
        high_kg=kg, reason="A meet",
    )  # fmt: skip


def test_a_day_says_what_is_known_of_it(cast: Cast) -> None:
    a_max(cast.athlete, MONDAY, 200)
    session = a_session(cast.athlete, MONDAY, "7.5", 60)
    a_session(cast.athlete, MONDAY, None, 40)
    a_set(session, "100", 5, "8")
    a_set(session, None, 12, None)
    summarize_days.rebuild_summaries([cast.athlete.pk])
    whole = DaySummary.objects.get(athlete=cast.athlete, family="")
    assert (whole.sessions, whole.sessions_rated, whole.session_load) == (2, 1, 450)
    assert (whole.sets, whole.sets_loaded, whole.sets_with_max, whole.sets_with_effort) == (
        2, 1, 1, 1,
    )  # fmt: skip
    assert (whole.volume_load, whole.relative_volume_load, whole.reps) == (500, 2.5, 17)
    squats = DaySummary.objects.get(athlete=cast.athlete, family="squat")
    assert (squats.sessions, squats.session_load, squats.volume_load) == (0, None, 500)


@pytest.mark.parametrize("seed", range(5))
def test_touched_days_come_to_what_a_full_computation_gives(cast: Cast, seed: int) -> None:
    """Sets sent, changed and taken out in any order, caught up at any moment."""
    dice = random.Random(seed)
    sessions: list[LoggedSession] = []
    for _ in range(25):
        if not sessions or dice.random() < 0.3:
            day = MONDAY - timedelta(days=dice.randrange(20))
            sessions.append(
                session_sent(cast.athlete, day=day, session_rpe=Decimal(dice.choice([6, 8])))
            )
        set_sent(
            dice.choice(sessions),
            uuid4(),
            load=Decimal(dice.randrange(60, 200)),
            reps=dice.randrange(1, 9),
            load_confirmed=True,  # of any size, in any order
        )
        if dice.random() < 0.3:
            summarize_days.summarize_dirty_days(cast.athlete.pk)
    summarize_days.summarize_dirty_days(cast.athlete.pk)
    assert not DirtyDay.objects.exists()
    incremental = stored(cast.athlete)
    assert incremental
    summarize_days.rebuild_summaries([cast.athlete.pk])
    assert stored(cast.athlete) == incremental
    assert reconcile_days([cast.athlete.pk]) == 0


def test_a_new_max_reaches_the_days_that_hang_on_it_and_no_other(cast: Cast) -> None:
    athlete = cast.athlete
    a_max(athlete, MONDAY, 100)
    for day in (0, 7, 14, 21):
        a_set(a_session(athlete, MONDAY + timedelta(days=day)), "100", 5)
    summarize_days.rebuild_summaries([athlete.pk])
    a_max(athlete, MONDAY + timedelta(days=21), 250)
    a_max(athlete, MONDAY + timedelta(days=7), 200)
    mark_dirty_days.best_max_changed(athlete, squat(), MONDAY + timedelta(days=7))
    days = set(DirtyDay.objects.values_list("day", flat=True))
    assert days == {MONDAY + timedelta(days=7), MONDAY + timedelta(days=14)}


def test_twice_is_once_and_a_deleted_day_has_no_row(cast: Cast) -> None:
    session = a_session(cast.athlete, MONDAY)
    a_set(session, "100")
    touch(cast.athlete, MONDAY, MONDAY)
    tasks.sweep_dirty_days()
    first = stored(cast.athlete)
    assert len(first) == 2
    touch(cast.athlete, MONDAY)
    tasks.summarize_dirty_days(cast.athlete.pk)
    assert stored(cast.athlete) == first
    session.delete()
    touch(cast.athlete, MONDAY)
    tasks.sweep_dirty_days()
    assert stored(cast.athlete) == []


def test_a_change_that_is_rolled_back_touches_nothing(cast: Cast) -> None:
    with transaction.atomic():
        touch(cast.athlete, MONDAY)
        transaction.set_rollback(True)
    assert not DirtyDay.objects.exists()


def test_a_worker_that_dies_leaves_day_and_touch_as_they_were(cast: Cast, monkeypatch) -> None:
    """Between writing the summary and taking the touch away nothing is committed."""
    a_set(a_session(cast.athlete, MONDAY), "100")
    touch(cast.athlete, MONDAY)

    def dies(*args: object) -> None:
        raise SystemExit

    with monkeypatch.context() as patched:
        patched.setattr("django.db.models.query.QuerySet.delete", dies)
        with pytest.raises(SystemExit):
            summarize_days.summarize_dirty_days(cast.athlete.pk)
    assert stored(cast.athlete) == []
    assert DirtyDay.objects.count() == 1
    tasks.sweep_dirty_days()
    assert len(stored(cast.athlete)) == 2


def test_the_nightly_proof_finds_a_planted_error_and_puts_it_right(cast: Cast, caplog) -> None:
    weeks_of_training(cast.athlete, MONDAY, 3)
    right = stored(cast.athlete)
    wrong = DaySummary.objects.filter(athlete=cast.athlete, family="").order_by("day")[1]
    DaySummary.objects.filter(pk=wrong.pk).update(volume_load=1)
    DaySummary.objects.filter(athlete=cast.athlete, family="squat").order_by("day")[0].delete()
    DaySummary.objects.create(athlete=cast.athlete, day=MONDAY + timedelta(days=90))
    assert reconcile_days([cast.athlete.pk]) == 3
    assert stored(cast.athlete) == right
    repairs = SummaryRepair.objects.filter(athlete=cast.athlete)
    assert repairs.count() == 3
    assert repairs.get(day=wrong.day).stored["volume_load"] == 1
    assert repairs.get(day=MONDAY + timedelta(days=90)).computed is None
    assert "did not follow from the log" in caplog.text
    assert reconcile_days([cast.athlete.pk]) == 0


def test_a_day_that_waits_is_not_called_wrong(cast: Cast) -> None:
    a_set(a_session(cast.athlete, MONDAY), "100")
    touch(cast.athlete, MONDAY)
    assert reconcile_days([cast.athlete.pk]) == 0
    assert not SummaryRepair.objects.exists()


@pytest.mark.parametrize(
    ("zone", "moment", "day"),
    [
        ("Europe/Oslo", datetime(2026, 3, 28, 23, 30, tzinfo=UTC), date(2026, 3, 29)),  # UTC+1
        ("Europe/Oslo", datetime(2026, 3, 29, 21, 59, tzinfo=UTC), date(2026, 3, 29)),  # UTC+2
        ("Europe/Oslo", datetime(2026, 3, 29, 22, 1, tzinfo=UTC), date(2026, 3, 30)),
        ("Europe/Oslo", datetime(2026, 10, 25, 22, 30, tzinfo=UTC), date(2026, 10, 25)),  # 25 h
        ("Pacific/Auckland", datetime(2026, 11, 2, 12, 0, tzinfo=UTC), date(2026, 11, 3)),
        ("America/Los_Angeles", datetime(2026, 11, 3, 6, 0, tzinfo=UTC), date(2026, 11, 2)),
    ],
)
def test_the_training_day_is_the_athletes_date(cast: Cast, zone: str, moment, day: date) -> None:
    """Across the nights when clocks change (IANA time zone database)."""
    cast.athlete.timezone = zone
    cast.athlete.save()
    with time_machine.travel(moment, tick=False):
        session = session_sent(cast.athlete, started_at=moment)
        set_sent(session, done_at=moment)
        summarize_days.summarize_dirty_days(cast.athlete.pk)
        assert {row[0] for row in stored(cast.athlete)} == {day}
        history = history_of(
            cast.athlete, measure="volume", family="", last=today_of(cast.athlete), count=13
        )
        assert history is not None
        assert history.days() == [day]


def test_a_page_reads_as_many_statements_for_six_years_as_for_three_months(
    cast: Cast, django_assert_num_queries
) -> None:
    for athlete, weeks in ((cast.athlete, 13), (cast.other_athlete, 60)):
        weeks_of_training(athlete, MONDAY, weeks)
        with django_assert_num_queries(2):
            history_of(athlete, measure="effort", family="", last=MONDAY, count=13)


def test_averages_do_not_depend_on_where_the_reading_began(cast: Cast, monkeypatch) -> None:
    """What lies before the 400 days that warm them up weighs nothing that a float could show."""
    day = MONDAY - timedelta(days=900)
    for step in range(0, 900, 3):
        a_session(cast.athlete, day + timedelta(days=step), str(5 + step % 5), 60)
    summarize_days.rebuild_summaries([cast.athlete.pk])
    asked = {"measure": "effort", "family": "", "last": MONDAY, "count": 13}
    short = history_of(cast.athlete, **asked)
    monkeypatch.setattr("programming.logs.selectors.load_history.WARM_DAYS", 5000)
    whole = history_of(cast.athlete, **asked)
    assert short.month.tolist() == pytest.approx(whole.month.tolist(), rel=1e-9)


def test_an_unrated_session_is_a_gap_and_the_week_says_at_least(cast: Cast) -> None:
    a_session(cast.athlete, MONDAY, "7", 60)
    a_session(cast.athlete, MONDAY + timedelta(days=2), None, 60)
    a_session(cast.athlete, MONDAY + timedelta(days=6), "8", 60)
    summarize_days.rebuild_summaries([cast.athlete.pk])
    sunday = MONDAY + timedelta(days=6)
    history = history_of(cast.athlete, measure="effort", family="", last=sunday, count=13)
    (line,) = history.lines
    assert (line.week.total.value, line.partly, line.known, line.of) == (900, True, 2, 3)
    assert line.week.monotony.value is None
    assert history.seven[1] == 0.75 * 420
    assert history.seven[2] != history.seven[2]  # a gap
    assert history.seven[3] == 0  # starts again
