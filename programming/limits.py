"""What cannot be right, whoever types it."""

from decimal import Decimal

from coachdesk.common.errors import Invalid
from coachdesk.common.units import to_kg

HEAVIEST_LOAD_KG = Decimal(1500)  # far above any lift: a slip of the keypad, not a record
HEAVIEST_BODY_KG = Decimal(400)
LIGHTEST_BODY_KG = Decimal(20)


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
