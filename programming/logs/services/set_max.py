"""A coach sets a max by hand, with a reason."""

from datetime import date
from decimal import Decimal

from django.db import transaction

from athletes.local_time import today_of
from athletes.models import Unit, User
from coachdesk.common.errors import Invalid
from programming.limits import HEAVIEST_LOAD_KG
from programming.logs.models import MaxKind, MaxRecord, MaxSource
from programming.logs.services.mark_dirty_days import best_max_changed
from programming.logs.services.refresh_maxes import refresh_since
from programming.logs.unusual_load import Attempt, question
from programming.movements.models import Movement


@transaction.atomic
def set_max(
    *,
    by: User,
    athlete: User,
    movement: Movement,
    kind: str,
    kg: Decimal,
    day: date,
    reason: str,
    unit: str = Unit.KG,
    load_confirmed: bool = False,
) -> MaxRecord:
    """From ``day`` on the max is ``kg``, until a set of a later day beats it or it is set again. It
    is never rewritten. ``unit`` is the one it was typed in. One transaction.

    Raises Invalid: no reason, a day to come, a load no bar holds; and UnusualLoad.
    """
    if not reason.strip():
        raise Invalid("Say why. The reason stays beside the number.")
    if day > today_of(athlete):
        raise Invalid("A max counts from today or from an earlier day.")
    if not 0 < kg <= HEAVIEST_LOAD_KG:
        raise Invalid("That load cannot be right. Check it.")
    if not load_confirmed:
        question(Attempt(athlete=athlete, day=day, movement=movement, kg=kg, unit=unit))
    row = MaxRecord.objects.create(
        athlete=athlete,
        movement=movement,
        kind=kind,
        source=MaxSource.HAND,
        day=day,
        kg=kg,
        low_kg=kg,
        high_kg=kg,
        reason=reason.strip(),
        set_by=by,
    )
    refresh_since(athlete=athlete, day=day, movements=[movement])
    if kind == MaxKind.BEST:
        best_max_changed(athlete, movement, day)
    return row
