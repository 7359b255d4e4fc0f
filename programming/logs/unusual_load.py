"""A load far above what is known of a lift is a slip of the keypad or a great day: it is asked
about before it is stored."""

from collections.abc import Collection, Iterable
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from django.db.models import Max as Greatest

from athletes.models import User
from coachdesk.common.errors import Invalid
from coachdesk.common.units import shown
from programming.logs.models import LoggedSet
from programming.logs.selectors.current_maxes import current_maxes
from programming.movements.models import Movement

QUESTIONED_ABOVE = Decimal("1.15")  # of what is known
QUESTION = "{load} is {percent}% above the {known} known for this lift. Is that load right?"
THIN = "\u2009"


class UnusualLoad(Invalid):
    """The words are the question; ``load_confirmed`` answers it."""

    field = "load_confirmed"


@dataclass(frozen=True, kw_only=True)
class Attempt:
    """A load that is about to be stored."""

    athlete: User
    day: date
    movement: Movement
    kg: Decimal
    unit: str  # the one it was typed in
    beside: Iterable[Decimal | None] = ()  # loads of the same session or question: meant already


def known_loads(
    *, athlete: User, day: date, movements: Collection[int] | None = None
) -> dict[int, Decimal]:
    """By movement: the greater of its maxes in force on ``day``; where there is none, the heaviest
    load of which a rep was made. Two statements."""
    known: dict[int, Decimal] = {}
    for (pk, _), found in current_maxes(athlete=athlete, day=day).items():
        known[pk] = max(found.kg, known.get(pk, found.kg))
    sets = LoggedSet.objects.filter(session__athlete=athlete, load_kg__gt=0, reps__gt=0)
    if movements is not None:
        sets = sets.filter(movement__in=movements)
    rest = sets.exclude(movement__in=known).order_by().values_list("movement")
    known.update(dict(rest.annotate(Greatest("load_kg"))))
    return known


def question_about(kg: Decimal, known: Decimal | None, unit: str) -> str:
    """What to ask about a load; "" for nothing. ``unit`` is the one it was typed in."""
    if known is None or kg <= known * QUESTIONED_ABOVE:
        return ""
    percent = ((kg / known - 1) * 100).quantize(Decimal(1), rounding=ROUND_HALF_UP)
    load, most = (f"{shown(each, unit)}{THIN}{unit}" for each in (kg, known))
    return QUESTION.format(load=load, percent=percent, known=most)


def question(attempt: Attempt) -> None:
    """Raises UnusualLoad for a load over `QUESTIONED_ABOVE` of what is known."""
    movement = attempt.movement
    loads = known_loads(athlete=attempt.athlete, day=attempt.day, movements=[movement.pk])
    known = loads.get(movement.pk)
    if known is not None:  # what stands beside it was meant, but says nothing of a new lift
        known = max([known, *filter(None, attempt.beside)])
    if asked := question_about(attempt.kg, known, attempt.unit):
        raise UnusualLoad(asked)
