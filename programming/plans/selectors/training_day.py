"""The athlete's session of the day as the phone holds it: what is planned, what is logged by now.

Several days of the plan go along, so that a phone without a network still has tomorrow's session.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid5

from django.db.models import Prefetch, Q
from django.urls import reverse
from django.utils import timezone

from athletes.local_time import today_of
from athletes.models import User
from coachdesk.common.units import shown
from programming.load.session_rpe import CR10
from programming.logs.models import BodyWeight, LoggedSession, LoggedSet, Removed
from programming.logs.selectors.last_times import LastTime, last_times
from programming.logs.unusual_load import QUESTION, QUESTIONED_ABOVE, known_loads
from programming.movements.models import Movement
from programming.permissions import (
    body_weights_visible_to,
    logged_sessions_of,
    movements_visible_to,
    planned_sessions_of,
)
from programming.plans.models import PlannedSession, Prescription
from programming.plans.plates import Plates
from programming.plans.resolving import Asked, Resolved
from programming.plans.running_corrections import with_corrections
from programming.plans.selectors.loads import Loads, loads_of
from programming.plans.targets import target_label

DAYS_BACK = 6  # a session that was missed can still be done
DAYS_AHEAD = 7


@dataclass(frozen=True)
class TrainingLine:
    """A prescription and what goes on the bar for it."""

    prescription: Prescription
    on_bar: Resolved
    unit: str  # the athlete's

    @property
    def target(self) -> str:
        return target_label(self.prescription, self.unit)

    @property
    def load(self) -> str | None:
        """None where the athlete decides."""
        return None if self.on_bar.kg is None else shown(self.on_bar.kg, self.unit)

    @property
    def changes(self) -> list[dict[str, Any]]:
        """What running corrections did to it: "Cap the low-bar squat at 95%", by whom, and how it
        was before ("" where the dose is the same, none where the line is new)."""
        return [
            {
                "said": change.correction.said,
                "by": change.correction.made_by.first_name if change.correction.made_by else "",
                "was": self._was(change.before),
            }
            for change in self.prescription.running
        ]

    def _was(self, before: dict[str, Any] | None) -> str | None:
        if before is None:
            return None
        target = Decimal(before["target"]) if before["target"] is not None else None
        old = Prescription(target_kind=before["target_kind"], target=target)
        was, line = target_label(old, self.unit), self.prescription
        if (before["sets"], before["reps"], was) == (line.sets, line.reps, self.target):
            return ""
        return f"{before['sets']} × {before['reps']}, {was}"


@dataclass(frozen=True)
class TrainingSession:
    """``first_revision``: it was taken out before, and only a newer count puts it in again."""

    session: PlannedSession
    log: UUID
    first_revision: int
    lines: list[TrainingLine]


@dataclass(frozen=True)
class TrainingDay:
    """``known_kg``: the most known of each movement; ``weights``: the last two, today's and the one
    before it to start from."""

    athlete: User
    today: date
    as_of: datetime
    plates: Plates
    movements: list[Movement]
    planned: list[TrainingSession]
    logs: list[LoggedSession]
    last: dict[int, LastTime]
    known_kg: dict[int, Decimal]
    weights: Iterable[BodyWeight]

    @property
    def unusual(self) -> dict[str, Any]:
        return {"above": QUESTIONED_ABOVE, "question": QUESTION, "known_kg": self.known_kg}

    @property
    def efforts(self) -> list[dict[str, Any]]:
        return [{"value": value, "word": word} for value, word in CR10.items()]

    @property
    def urls(self) -> dict[str, str]:
        """Addresses with the all-zero id and day where the phone puts its own."""
        zero = "00000000-0000-0000-0000-000000000000"
        return {
            "state": reverse("api-today"),
            "session": reverse("api-log-session", args=[zero]),
            "weight": reverse("api-body-weight", args=["0001-01-01"]),
        }


def training_day(athlete: User) -> TrainingDay:
    """Everything the page shows. A bounded number of statements, whatever the plan."""
    today = today_of(athlete)
    sessions = _planned(athlete, today)
    logs = _logs(athlete, today, sessions)
    loads = loads_of(athlete)
    used = {line.movement_id for session in sessions for line in session.prescriptions.all()}
    used |= {row.movement_id for log in logs for row in log.sets.all()}
    removed = dict(
        Removed.objects.filter(pk__in=map(log_id, sessions)).values_list("pk", "revision")
    )
    weights = body_weights_visible_to(athlete).filter(athlete=athlete, day__lte=today)
    return TrainingDay(
        athlete=athlete,
        today=today,
        as_of=timezone.now(),
        plates=loads.plates,
        movements=list(movements_visible_to(athlete)),
        planned=[
            TrainingSession(
                session, log_id(session), removed.get(log_id(session), 0) + 1,
                _lines(session, loads, athlete.unit),
            )
            for session in sessions
        ],
        logs=logs,
        last=last_times(athlete=athlete, movements=used, before=today),
        known_kg=known_loads(athlete=athlete, day=today),
        weights=weights.order_by("-day")[:2],
    )  # fmt: skip


def log_id(planned: PlannedSession) -> UUID:
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


def _lines(session: PlannedSession, loads: Loads, unit: str) -> list[TrainingLine]:
    day = session.day
    assert day is not None  # an athlete's session has its day
    lines = []
    for line in session.prescriptions.all():
        asked = Asked(line.target_kind, line.target, line.reps, line.cap_percent)
        on_bar = loads.resolve(asked, line.movement_id, day, unit)
        lines.append(TrainingLine(line, on_bar, unit))
    return lines


def _logs(athlete: User, today: date, planned: list[PlannedSession]) -> list[LoggedSession]:
    near = Q(day__gte=today - timedelta(days=1)) | Q(planned__in=planned)
    rows = LoggedSet.objects.order_by("position", "done_at")
    return list(
        logged_sessions_of(athlete)
        .filter(near)
        .prefetch_related(Prefetch("sets", queryset=rows))
        .order_by("started_at")
    )
