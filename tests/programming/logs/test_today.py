"""The day as the phone gets it, the log by weeks, and the line on the athlete's home."""

from datetime import timedelta
from decimal import Decimal

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse
from django.utils import timezone

from athletes.local_time import today_of
from athletes.models import User
from programming.corrections.snapshots import snapshot
from programming.logs.services.log_session import remove_session
from programming.models import Change, Correction, MaxRecord, PlannedSession
from programming.plans.schemas import training_day_data
from programming.plans.selectors.logbook import logged_weeks, monday_of
from programming.plans.selectors.training_day import log_id
from programming.plans.selectors.training_row import today_line
from tests.conftest import Cast
from tests.programming.logs.rows import NOON, a_plan, a_session, a_set, movement

LINES = (("Low-bar squat", 3, 3, "140"), ("Barbell row", 3, 10, ""))


def planned(athlete: User) -> PlannedSession:
    return a_plan(athlete, today_of(athlete), LINES)


def test_the_coming_set_has_its_load_and_plates(cast: Cast) -> None:
    planned(cast.athlete)
    (session,) = training_day_data(cast.athlete)["planned"]
    squat, row = session["lines"]
    assert (squat["load"], squat["side"], squat["rest"]) == ("140", ["25", "25", "10"], 180)
    assert (row["load"], row["target"]) == (None, "by feel")


def test_a_percentage_follows_the_technical_max(cast: Cast) -> None:
    plan = planned(cast.athlete)
    plan.prescriptions.filter(position=1).update(target_kind="technical", target=80)
    line = training_day_data(cast.athlete)["planned"][0]["lines"][0]
    assert (line["load"], line["how"]) == (
        None, "no technical max yet: lift one to standard first"
    )  # fmt: skip
    MaxRecord.objects.create(
        athlete=cast.athlete, movement=movement(), kind="technical", source="hand", reason="meet",
        day=NOON.date() - timedelta(days=400), kg=150, low_kg=150, high_kg=150,
    )  # fmt: skip
    assert training_day_data(cast.athlete)["planned"][0]["lines"][0]["load"] == "120"


def test_a_line_says_which_correction_changed_it(cast: Cast) -> None:
    plan = planned(cast.athlete)
    line = plan.prescriptions.get(position=1)
    correction = Correction.objects.create(
        athlete=cast.athlete, kind="dose", made_by=cast.coach,
        said="Squat lighter until the hips stay down",
    )  # fmt: skip
    before = {**snapshot(line), "target": "150"}
    Change.objects.create(
        correction=correction, prescription=line, before=before, after=snapshot(line)
    )
    squat, row = training_day_data(cast.athlete)["planned"][0]["lines"]
    was = {"said": correction.said, "by": "Tove", "was": "3 × 3, 150\u2009kg"}
    assert squat["changes"] == [was]
    assert row["changes"] == []


def test_in_the_readers_unit(cast: Cast) -> None:
    cast.athlete.unit = "lb"
    planned(cast.athlete)
    line = training_day_data(cast.athlete)["planned"][0]["lines"][0]
    # 140 kg is 308.6 lb; with the usual pounds on a 45 lb bar that is 310.
    assert (line["target"], line["load"]) == ("308.6\u2009lb", "310")


def test_the_last_time_is_said_without_today(cast: Cast) -> None:
    now = timezone.now()
    before = a_session(cast.athlete, started_at=now - timedelta(days=7))
    for reps, missed in ((3, 0), (3, 0), (2, 1)):
        a_set(before, load=Decimal(150), reps=reps, missed_reps=missed)
    plan = planned(cast.athlete)
    today = a_session(cast.athlete, planned=plan.pk, started_at=now)
    a_set(today, load=Decimal(100))
    last = training_day_data(cast.athlete)["last"][str(movement().pk)]
    assert last["words"] == "150\u2009kg × 3, 3, 2, RPE 7.5. 1 rep missed."


def test_what_was_taken_out_may_be_begun_again(cast: Cast) -> None:
    """The phone is told from which count on the server would take the session back."""
    plan = planned(cast.athlete)
    session = a_session(cast.athlete, log_id(plan), planned=plan.pk, revision=4)
    remove_session(athlete=cast.athlete, session_id=session.pk, revision=5)
    first = training_day_data(cast.athlete)["planned"][0]["first_revision"]
    assert first == 6
    assert a_session(cast.athlete, log_id(plan), revision=first).pk == session.pk


def test_the_number_of_statements_does_not_grow(cast: Cast) -> None:
    plan = planned(cast.athlete)
    session = a_session(cast.athlete, planned=plan.pk, started_at=timezone.now())
    a_set(session)

    def statements() -> int:
        with CaptureQueriesContext(connection) as caught:
            training_day_data(cast.athlete)
            logged_weeks(reader=cast.athlete, athlete=cast.athlete, until=today_of(cast.athlete))
        return len(caught)

    few = statements()
    for _ in range(3):
        more = planned(cast.athlete)
        again = a_session(cast.athlete, planned=more.pk, started_at=timezone.now())
        for line in more.prescriptions.all():
            a_set(again, prescription=line.pk, movement=line.movement_id)
    assert statements() == few


def test_the_log_puts_what_was_asked_beside_what_was_done(cast: Cast) -> None:
    day = today_of(cast.athlete)
    plan = planned(cast.athlete)
    squat, _row = plan.prescriptions.order_by("position")
    session = a_session(cast.athlete, planned=plan.pk, started_at=timezone.now())
    a_set(session, prescription=squat.pk)
    a_set(session, movement=movement("Romanian deadlift").pk)
    a_plan(cast.athlete, monday_of(day) - timedelta(days=1), LINES)  # nobody trained it
    this_week, last_week, *_ = logged_weeks(reader=cast.coach, athlete=cast.athlete, until=day)
    (entry,) = this_week.entries
    assert [(row.movement.name, len(row.sets), row.not_done) for row in entry.rows] == [
        ("Low-bar squat", 1, 2), ("Barbell row", 0, 3), ("Romanian deadlift", 1, 0)
    ]  # fmt: skip
    assert entry.is_gap
    assert [one.session for one in last_week.entries] == [None]
    seen = logged_weeks(reader=cast.stranger, athlete=cast.athlete, until=day)
    assert not any(week.entries for week in seen), "a coach of another club sees none of it"


def test_the_line_on_the_home(cast: Cast) -> None:
    assert today_line(cast.athlete).planned is None
    plan = planned(cast.athlete)
    assert today_line(cast.athlete).movements == ["Low-bar squat", "Barbell row"]
    session = a_session(cast.athlete, planned=plan.pk, started_at=timezone.now())
    a_set(session)
    assert today_line(cast.athlete).sets == 1
    client = Client()
    client.force_login(cast.athlete)
    assert b"1 set logged" in b" ".join(client.get(reverse("athlete-home")).content.split())
