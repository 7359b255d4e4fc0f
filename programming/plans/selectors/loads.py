"""What an athlete loads for a prescription: their maxes and plates, looked up once for many."""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from athletes.models import User
from programming.logs.models import MaxKind
from programming.logs.selectors.current_maxes import MaxSteps, max_steps
from programming.plans.models import PlateSet
from programming.plans.plates import Plates
from programming.plans.resolving import Asked, Known, Maxes, Resolved, resolve


@dataclass(frozen=True)
class Loads:
    """One athlete's maxes of every movement, and what they can put on a bar."""

    athlete_id: int
    plates: Plates
    steps: MaxSteps

    def resolve(self, asked: Asked, movement_id: int | None, day: date, unit: str) -> Resolved:
        """What goes on the bar on ``day``. A movement that does not exist yet has no max."""
        technical = self._max(movement_id, MaxKind.TECHNICAL, day)
        best = self._max(movement_id, MaxKind.BEST, day)
        return resolve(asked, Maxes(technical=technical, best=best), self.plates, unit)

    def _max(self, movement_id: int | None, kind: str, day: date) -> Known | None:
        if movement_id is None:
            return None
        return self.steps.at(self.athlete_id, movement_id, kind, day)


def loads_of(athlete: User) -> Loads:
    """Two statements, however many prescriptions are resolved with it."""
    return Loads(athlete.pk, plates_of(athlete), max_steps(athletes=[athlete]))


def plates_of(athlete: User) -> Plates:
    """What the athlete told, or the usual set in their unit. One statement."""
    plate_set = PlateSet.objects.filter(athlete=athlete).first()
    if plate_set is None:
        return Plates.usual(athlete.unit)
    pairs = sorted(((Decimal(weight), int(n)) for weight, n in plate_set.pairs), reverse=True)
    return Plates(plate_set.unit, plate_set.bar, tuple(pairs))
