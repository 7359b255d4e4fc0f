"""The athlete's session of the day as the phone holds it: what is planned, what is logged by now.

Several days of the plan go along, so that a phone without a network still has tomorrow's session.
"""

from datetime import date, timedelta
from typing import Any
from uuid import uuid5

from django.db.models import Prefetch, Q
from django.urls import reverse
from django.utils import timezone

from athletes.local_time import today_of
from athletes.models import User
from coachdesk.common.units import shown
from programming.logs.history import LastTime, last_times
from programming.logs.models import LoggedSession, LoggedSet, Removed
from programming.logs.shapes import plain, session_json, set_json
from programming.logs.unusual_load import QUESTION, QUESTIONED_ABOVE, known_loads
from programming.logs.words import CR10
from programming.movements.models import Movement
from programming.permissions import (
    body_weights_visible_to,
    logged_sessions_of,
    movements_visible_to,
    planned_sessions_of,
)
from programming.plans.held import with_corrections
from programming.plans.loads import Loads, loads_of
from programming.plans.models import PlannedSession, Prescription
from programming.plans.plating import Plates
from programming.plans.today_lines import line_json

DAYS_BACK = 6  # a session that was missed can still be done
DAYS_AHEAD = 7


def today_data(athlete: User) -> dict[str, Any]:
    """Everything the page shows, as JSON. A bounded number of statements, whatever the plan."""
    today = today_of(athlete)
    planned = _planned(athlete, today)
    logs = _logs(athlete, today, planned)
    lines = [line for session in planned for line in session.prescriptions.all()]
    movements = list(movements_visible_to(athlete))
    used = {line.movement_id for line in lines} | {
        row.movement_id for log in logs for row in log.sets.all()
    }
    last = last_times(athlete=athlete, movements=used, before=today)
    loads = loads_of(athlete)
    removed = dict(
        Removed.objects.filter(pk__in=[log_id(one) for one in planned]).values_list(
            "pk", "revision"
        )
    )
    return {
        "athlete": athlete.pk,
        "unit": athlete.unit,
        "zone": athlete.timezone,
        "today": today.isoformat(),
        "as_of": timezone.now().isoformat(),
        "plates": _plates_json(loads.plates),
        "movements": [_movement_json(one) for one in movements],
        "planned": [
            _session_json(one, loads, athlete.unit, removed.get(log_id(one), 0)) for one in planned
        ],
        "logs": [
            {**session_json(log), "sets": [set_json(row) for row in log.sets.all()]} for log in logs
        ],
        "last": {str(pk): _last_json(one, athlete) for pk, one in last.items()},
        "unusual": _unusual_json(athlete, today),
        "efforts": [{"value": value, "word": word} for value, word in CR10.items()],
        "weights": _weights(athlete, today),
        "urls": _urls(),
    }


def log_id(planned: PlannedSession) -> Any:
    """The log's id of a planned session, the same on every phone: begun twice without a network,
    it is still one session."""
    return uuid5(planned.pk, "log")


def _planned(athlete: User, today: date) -> list[PlannedSession]:
    window = (today - timedelta(days=DAYS_BACK), today + timedelta(days=DAYS_AHEAD))
    lines = with_corrections(Prescription.objects.order_by("position"))
    return list(
        planned_sessions_of(athlete)
        .filter(day__range=window, programme__ended_at=None)
        .select_related("programme")
        .prefetch_related(Prefetch("prescriptions", queryset=lines))
        .order_by("day", "position")
    )


def _logs(athlete: User, today: date, planned: list[PlannedSession]) -> list[LoggedSession]:
    near = Q(day__gte=today - timedelta(days=1)) | Q(planned__in=planned)
    rows = LoggedSet.objects.order_by("position", "done_at")
    return list(
        logged_sessions_of(athlete)
        .filter(near)
        .prefetch_related(Prefetch("sets", queryset=rows))
        .order_by("started_at")
    )


def _plates_json(plates: Plates) -> dict[str, Any]:
    pairs = [[plain(weight), pairs] for weight, pairs in plates.pairs]
    return {"unit": plates.unit, "bar": plain(plates.bar), "pairs": pairs}


def _movement_json(one: Movement) -> dict[str, Any]:
    return {"id": one.pk, "name": one.name, "family": one.family}


def _session_json(session: PlannedSession, loads: Loads, unit: str, removed: int) -> dict[str, Any]:
    day = session.day
    assert day is not None  # an athlete's session has its day
    return {
        "id": str(session.pk),
        "log": str(log_id(session)),
        "first_revision": removed + 1,  # it was taken out before: a newer count brings it back
        "name": str(session),
        "programme": session.programme.name,
        "day": day.isoformat(),
        "note": session.note,
        "lines": [line_json(line, loads, day, unit) for line in session.prescriptions.all()],
    }


def _last_json(last: LastTime, athlete: User) -> dict[str, Any]:
    top = max((row.load_kg for row in last.sets if row.load_kg is not None), default=None)
    return {
        "day": last.day.isoformat(),
        "words": last.words(athlete.unit),
        "load": None if top is None else shown(top, athlete.unit),
        "reps": last.sets[-1].reps,
    }


def _unusual_json(athlete: User, today: date) -> dict[str, Any]:
    """What the phone asks about without a network, by the same rule as the server: the most known
    of each movement in kg, and the question."""
    known = known_loads(athlete=athlete, day=today)
    return {
        "above": plain(QUESTIONED_ABOVE),
        "question": QUESTION,
        "known_kg": {str(pk): plain(kg) for pk, kg in known.items()},
    }


def _weights(athlete: User, today: date) -> list[dict[str, str]]:
    """The last two: today's, and the one before it to start from."""
    rows = body_weights_visible_to(athlete).filter(athlete=athlete, day__lte=today)
    return [
        {"day": row.day.isoformat(), "weight": shown(row.kg, athlete.unit)}
        for row in rows.order_by("-day")[:2]
    ]


def _urls() -> dict[str, str]:
    """Addresses with the all-zero id and day where the phone puts its own."""
    zero = "00000000-0000-0000-0000-000000000000"
    return {
        "state": reverse("api-today"),
        "session": reverse("api-log-session", args=[zero]),
        "weight": reverse("api-body-weight", args=["0001-01-01"]),
    }
