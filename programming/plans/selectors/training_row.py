"""Today's session in one line, for the athlete's home."""

from dataclasses import dataclass
from datetime import date

from django.db.models import Prefetch

from athletes.local_time import today_of
from athletes.models import User
from programming.logs.models import LoggedSession
from programming.permissions import logged_sessions_of, planned_sessions_of
from programming.plans.models import PlannedSession, Prescription


@dataclass(frozen=True)
class TodayLine:
    """``next_day``: when the next session is planned, where none is today."""

    planned: PlannedSession | None
    logged: LoggedSession | None
    sets: int
    next_day: date | None

    @property
    def movements(self) -> list[str]:
        if self.planned is None:
            return []
        return [line.movement.name for line in self.planned.prescriptions.all() if not line.held]

    @property
    def is_finished(self) -> bool:
        return self.logged is not None and self.logged.finished_at is not None


def today_line(athlete: User) -> TodayLine:
    """At most five statements."""
    today = today_of(athlete)
    lines = Prescription.objects.select_related("movement").order_by("position")
    planned = planned_sessions_of(athlete).filter(programme__ended_at=None)
    mine = planned.filter(day=today).prefetch_related(Prefetch("prescriptions", queryset=lines))
    logged = logged_sessions_of(athlete).filter(day=today).order_by("started_at").last()
    coming = planned.filter(day__gt=today).order_by("day").values_list("day", flat=True)
    return TodayLine(
        planned=mine.order_by("position").first(),
        logged=logged,
        sets=logged.sets.count() if logged else 0,
        next_day=coming.first(),
    )
