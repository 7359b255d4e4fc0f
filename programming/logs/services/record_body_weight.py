"""Body weight, one a day. Each public function is one transaction."""

from datetime import date
from decimal import Decimal

from django.db import transaction

from athletes.local_time import today_of
from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.limits import body_in_kg
from programming.logs.models import BodyWeight


@transaction.atomic
def record_body_weight(
    *, athlete: User, day: date, weight: Decimal | None, unit: str
) -> BodyWeight | None:
    """Set the day's body weight, or take it out with none. Raises Invalid."""
    if day > today_of(athlete):
        raise Invalid("A body weight cannot be logged before its day.")
    if weight is None:
        BodyWeight.objects.filter(athlete=athlete, day=day).delete()
        return None
    kg = body_in_kg(weight, unit)
    row, _ = BodyWeight.objects.update_or_create(athlete=athlete, day=day, defaults={"kg": kg})
    return row
