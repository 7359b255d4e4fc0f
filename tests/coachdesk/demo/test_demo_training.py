"""The demo's twelve weeks: the same each time, with the holes that real logs have."""

from athletes.local_time import today_of
from coachdesk.demo.training_history import TRAINEES, WEEKS_PAST, train
from programming.models import (
    BodyWeight,
    DaySummary,
    LoggedSession,
    LoggedSet,
    MaxRecord,
    PlannedSession,
)
from tests.conftest import Cast


def test_twelve_weeks_of_two_athletes(cast: Cast) -> None:
    people = {TRAINEES[0].key: cast.athlete, TRAINEES[1].key: cast.other_athlete}
    train(people, cast.coach)
    for athlete in people.values():
        sessions = LoggedSession.objects.filter(athlete=athlete)
        assert sessions.count() == WEEKS_PAST * 3 - 1, "one that nobody did"
        assert sessions.filter(session_rpe=None).count() >= 3, "a week without a rating"
        assert LoggedSet.objects.filter(session__athlete=athlete, rpe=None).exists()
        assert LoggedSet.objects.filter(session__athlete=athlete, missed_reps__gt=0).exists()
        assert BodyWeight.objects.filter(athlete=athlete).count() > 10
        assert MaxRecord.objects.filter(athlete=athlete, kind="best").exists()
        assert DaySummary.objects.filter(athlete=athlete).exists()
        today = PlannedSession.objects.filter(programme__athlete=athlete, day=today_of(athlete))
        assert today.count() == 1, "there is something to train when the demo is opened"
    first = list(LoggedSet.objects.order_by("pk").values_list("pk", "load_kg", "reps", "rpe"))
    LoggedSession.objects.all().delete()
    PlannedSession.objects.all().delete()
    BodyWeight.objects.all().delete()
    train(people, cast.coach)
    assert first == list(
        LoggedSet.objects.order_by("pk").values_list("pk", "load_kg", "reps", "rpe")
    )
