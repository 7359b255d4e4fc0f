"""What an athlete can put on the bar, as they tell it."""

from decimal import Decimal

from django.db import transaction

from athletes.models import User
from programming.plans.models import PlateSet
from programming.plans.plates import Pairs, Plates


@transaction.atomic
def set_plates(*, athlete: User, unit: str, bar: Decimal, pairs: Pairs) -> Plates:
    """Every load of the athlete is rounded to these from now on. One transaction."""
    PlateSet.objects.update_or_create(
        athlete=athlete,
        defaults={
            "unit": unit,
            "bar": bar,
            "pairs": [[f"{weight.normalize():f}", n] for weight, n in pairs],
        },
    )
    return Plates(unit, bar, pairs)
