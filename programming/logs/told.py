"""What a phone tells of a session, a set and a body weight, before it is checked and stored."""

from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from uuid import UUID

from athletes.models import Unit
from coachdesk.common.errors import Invalid
from coachdesk.common.units import to_kg

HEAVIEST_KG = Decimal(1500)  # far above any lift: a slip of the keypad, not a record
HEAVIEST_BODY_KG = Decimal(400)
LIGHTEST_BODY_KG = Decimal(20)


@dataclass(frozen=True, kw_only=True)
class ToldSession:
    """``day`` overrides the athlete's local date of ``started_at``, for a session logged later."""

    revision: int
    started_at: datetime
    planned: UUID | None = None
    day: date | None = None
    session_rpe: Decimal | None = None
    minutes: int | None = None
    note: str = ""
    finished_at: datetime | None = None


@dataclass(frozen=True, kw_only=True)
class ToldSet:
    """``load`` is in ``unit``; none is a lift without a load. ``missed_reps`` are beside ``reps``,
    not among them. ``load_confirmed``: the load is meant, however far above what is known."""

    revision: int
    movement: int
    prescription: UUID | None = None
    position: int = 1
    load: Decimal | None = None
    load_confirmed: bool = False
    unit: str = Unit.KG
    reps: int
    missed_reps: int = 0
    rpe: Decimal | None = None
    note: str = ""
    done_at: datetime


def load_in_kg(load: Decimal | None, unit: str) -> Decimal | None:
    """Kilograms to the gram. Raises Invalid with a sentence for what no bar holds."""
    if load is None:
        return None
    kg = to_kg(load, unit)
    if not 0 <= kg <= HEAVIEST_KG:
        raise Invalid(f"{load.normalize():f} {unit} cannot be right. Check the load.")
    return kg


def body_in_kg(weight: Decimal, unit: str) -> Decimal:
    """Kilograms to the gram. Raises Invalid for what no lifter weighs."""
    kg = to_kg(weight, unit)
    if not LIGHTEST_BODY_KG <= kg <= HEAVIEST_BODY_KG:
        raise Invalid(f"A body weight of {weight.normalize():f} {unit} cannot be right. Check it.")
    return kg
