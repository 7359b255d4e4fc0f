"""What an athlete can put on the bar, as they tell it."""

import re
from decimal import Decimal

from django.db import transaction

from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.plans.models import PlateSet
from programming.plans.plating import MOST_PAIRS, Plates

Pairs = tuple[tuple[Decimal, int], ...]
PAIR = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,3})?) ?(?:[x*×] ?([0-9]{1,2}))?")


def read_pairs(text: str) -> Pairs:
    """From ``25x4, 20x1, 2.5``: (weight, pairs), heaviest first; no number is one pair. Raises
    Invalid."""
    pairs: dict[Decimal, int] = {}
    for part in filter(None, (one.strip() for one in re.split(r"[,;\n]", text.lower()))):
        found = PAIR.fullmatch(part)
        if not found or not Decimal(found[1]):
            raise Invalid(f"“{part[:20]}” is not clear. Write each plate like 25x4 or 2.5x1.")
        weight = Decimal(found[1])
        pairs[weight] = pairs.get(weight, 0) + int(found[2] or 1)
    if sum(pairs.values()) > MOST_PAIRS:
        raise Invalid(f"That is more than {MOST_PAIRS} pairs: name those that go on one bar.")
    return tuple(sorted(((w, n) for w, n in pairs.items() if n), reverse=True))


def written_pairs(pairs: Pairs) -> str:
    """ "25x4, 20x1": what `read_pairs` reads."""
    return ", ".join(f"{weight.normalize():f}x{n}" for weight, n in pairs)


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
