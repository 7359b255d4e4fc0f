"""What was lifted before: the last time of each movement, in words and as a place to start."""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from django.db.models import Max

from athletes.models import User
from coachdesk.common.units import shown
from programming.logs.models import LoggedSet

THIN = "\u2009"


@dataclass(frozen=True)
class LastTime:
    """The newest day before the one asked for, with its sets in order."""

    day: date
    sets: tuple[LoggedSet, ...]

    @property
    def top_kg(self) -> Decimal | None:
        return max((row.load_kg for row in self.sets if row.load_kg is not None), default=None)

    @property
    def last_reps(self) -> int:
        return self.sets[-1].reps

    def words(self, unit: str) -> str:
        """ "150 kg × 3, 3, 2, RPE 8 to 9.5. One rep missed." in the reader's unit."""
        text = "; ".join(self._loads(unit))
        efforts = sorted({row.rpe for row in self.sets if row.rpe is not None})
        if efforts:
            ends = [f"{rpe.normalize():f}" for rpe in (efforts[0], efforts[-1])]
            text += f", RPE {ends[0]}" + (f" to {ends[1]}" if len(efforts) > 1 else "")
        missed = sum(row.missed_reps for row in self.sets)
        if missed:
            text += f". {missed} {'rep' if missed == 1 else 'reps'} missed"
        return f"{text}."

    def _loads(self, unit: str) -> Iterable[str]:
        groups: list[tuple[Decimal | None, list[int]]] = []
        for row in self.sets:
            if not groups or groups[-1][0] != row.load_kg:
                groups.append((row.load_kg, []))
            groups[-1][1].append(row.reps)
        for kg, reps in groups:
            many = ", ".join(map(str, reps))
            yield f"{shown(kg, unit)}{THIN}{unit} × {many}" if kg is not None else f"× {many}"


def last_times(*, athlete: User, movements: Iterable[int], before: date) -> dict[int, LastTime]:
    """The last time of each movement by its id. Two statements."""
    mine = LoggedSet.objects.filter(
        session__athlete=athlete, session__day__lt=before, movement__in=set(movements)
    )
    newest = mine.order_by().values("movement").annotate(day=Max("session__day"))
    days = {row["movement"]: row["day"] for row in newest}
    if not days:
        return {}
    found: dict[int, list[LoggedSet]] = {}
    rows = mine.filter(session__day__in=set(days.values())).select_related("session")
    for row in rows.order_by("session__started_at", "position", "done_at"):
        if row.session.day == days[row.movement_id]:
            found.setdefault(row.movement_id, []).append(row)
    return {pk: LastTime(days[pk], tuple(sets)) for pk, sets in found.items()}
