"""The day's session and the log, in the states a lifter meets."""

from datetime import timedelta
from decimal import Decimal

from django.urls import reverse
from django.utils import timezone

from athletes.local_time import today_of
from athletes.models import PainReport
from programming.corrections.snapshots import snapshot
from programming.logs.models import ImportDraft
from programming.logs.services.record_body_weight import record_body_weight
from programming.models import Correction
from tests.browser.pages import Look
from tests.browser.reply.factories import make_answered_submission
from tests.conftest import Cast
from tests.programming.logs.rows import a_plan, a_session, a_set, movement

LINES = (
    ("Low-bar squat", 3, 3, "140"),
    ("Paused bench press", 4, 4, "90"),
    ("Barbell row", 3, 10, ""),
)
TRAINING = "/today/session/"


def planned(cast: Cast):
    return a_plan(cast.athlete, today_of(cast.athlete), LINES)


def begun(cast: Cast, **facts: object):
    """Two sets logged, one with a miss; the last time a week ago."""
    now = timezone.now()
    week_ago = now - timedelta(days=7)
    before = a_session(cast.athlete, started_at=week_ago)
    for reps in (3, 3, 2):
        a_set(before, load=Decimal(150), reps=reps, rpe=Decimal(9), done_at=week_ago)
    plan = planned(cast)
    line = plan.prescriptions.first()
    session = a_session(cast.athlete, planned=plan.pk, started_at=now, **facts)
    a_set(session, prescription=line.pk, done_at=now)
    a_set(session, prescription=line.pk, reps=2, missed_reps=1, note="Hips first.", done_at=now)
    record_body_weight(
        athlete=cast.athlete, day=today_of(cast.athlete), weight=Decimal("82.4"), unit="kg"
    )
    return session


def fresh(cast: Cast) -> str:
    planned(cast)
    return TRAINING


def hurting(cast: Cast) -> str:
    planned(cast)
    PainReport.objects.create(
        athlete=cast.athlete, where="lower back", score=4, since="Tuesday", signs=["night"]
    )
    return TRAINING


def under_way(cast: Cast) -> str:
    begun(cast)
    return TRAINING


def finished(cast: Cast) -> str:
    begun(cast, finished_at=timezone.now(), minutes=72, session_rpe=Decimal(7))
    return TRAINING


def own_log(cast: Cast) -> str:
    """A finished one, a gap, one that nobody did, and sets beside the plan."""
    begun(cast)
    a_plan(cast.athlete, today_of(cast.athlete) - timedelta(days=3), LINES)
    free = a_session(cast.athlete, started_at=timezone.now() - timedelta(days=4))
    a_set(free, movement=movement("Romanian deadlift").pk, reps=20, load=Decimal(60))
    return reverse("training-log")


def read_by_coach(cast: Cast) -> str:
    own_log(cast)
    return reverse("athlete-log", args=[cast.athlete.pk])


def with_cue(cast: Cast) -> str:
    """The cue of the last reply stands above the sets, and what a correction changed."""
    make_answered_submission(cast)
    line = begun(cast).planned.prescriptions.get(position=1)
    correction = Correction.objects.create(
        athlete=cast.athlete,
        kind="cap",
        said="Cap the low-bar squat at 95% of its technical max",
        made_by=cast.coach,
    )
    before = {**snapshot(line), "target": "150"}
    correction.changes.create(prescription=line, before=before, after=snapshot(line))
    return TRAINING


GOOD = """Datum;Exercise;Weight (kg);Reps;RPE;Comment
02.11.2026;Low-bar squat;142,5;3;8;
02.11.2026;Low-bar squat;142,5;3;8,5;Hips first on the last one.
05.11.2026;Squat with a safety bar, close stance, paused;100;5;;
"""
BAD = GOOD + "31.02.2026;Low-bar squat;many;x;12;\n07.11.2026;;100;5;;\n"


def checked(text: str):
    def build(cast: Cast) -> str:
        facts = {"name": "training since 2019, all of it.csv", "text": text}
        ImportDraft.objects.create(athlete=cast.athlete, **facts)
        return reverse("log-import-check")

    return build


PAGES = [
    Look("training", "athlete", fresh, state="planned"),
    Look("training", "athlete", hurting, state="pain"),
    Look("training", "athlete", under_way, state="begun"),
    Look("training", "athlete", with_cue, state="cue"),
    Look("training", "athlete", finished, state="finished"),
    Look("training", "athlete", lambda cast: TRAINING, state="nothing"),
    Look("training-log", "athlete", own_log),
    Look("training-log", "athlete", lambda cast: reverse("training-log"), state="empty"),
    Look("athlete-log", "coach", read_by_coach),
    Look("log-import", "athlete", lambda cast: reverse("log-import")),
    Look("log-import-check", "athlete", checked(GOOD), state="good"),
    Look("log-import-check", "athlete", checked(BAD), state="errors"),
    Look("log-import-check", "athlete", checked("a,b\n1,2\n"), state="columns"),
]
