"""What cannot be right, whoever types it."""

from decimal import Decimal
from typing import Any

from coachdesk.common.errors import Invalid
from coachdesk.common.units import to_kg

HEAVIEST_LOAD_KG = Decimal(1500)  # far above any lift: a slip of the keypad, not a record
HEAVIEST_BODY_KG = Decimal(400)
LIGHTEST_BODY_KG = Decimal(20)

# A field for a cap, of a form or a serializer: a share of the technical max.
CAP_PERCENT: dict[str, Any] = {
    "max_digits": 5,
    "decimal_places": 2,
    "min_value": Decimal("0.01"),
    "max_value": Decimal(100),
}
CAP = "A cap is a share of the technical max, above 0 and up to 100%, with two decimals at most."


def is_cap(percent: Decimal) -> bool:
    return 0 < percent <= 100 and percent == round(percent, CAP_PERCENT["decimal_places"])


def load_in_kg(load: Decimal | None, unit: str) -> Decimal | None:
    """Kilograms to the gram. Raises Invalid with a sentence for what no bar holds."""
    if load is None:
        return None
    kg = to_kg(load, unit)
    if not 0 <= kg <= HEAVIEST_LOAD_KG:
        raise Invalid(f"{load.normalize():f} {unit} cannot be right. Check the load.")
    return kg


def body_in_kg(weight: Decimal, unit: str) -> Decimal:
    """Kilograms to the gram. Raises Invalid for what no lifter weighs."""
    kg = to_kg(weight, unit)
    if not LIGHTEST_BODY_KG <= kg <= HEAVIEST_BODY_KG:
        raise Invalid(f"A body weight of {weight.normalize():f} {unit} cannot be right. Check it.")
    return kg
