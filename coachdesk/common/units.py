"""Kilograms and pounds. Loads are stored in kilograms as decimals, shown in the reader's unit."""

from decimal import ROUND_HALF_UP, Decimal

# Exact by definition: the international avoirdupois pound (1959).
KG_PER_LB = Decimal("0.45359237")
GRAM = Decimal("0.001")
TENTH = Decimal("0.1")
SMALLEST_STEP = Decimal("0.05")  # kg; no pair of plates is lighter


def to_kg(value: Decimal, unit: str) -> Decimal:
    """Kilograms to the gram, from a load typed in ``unit`` ("kg" or "lb")."""
    kg = value * KG_PER_LB if unit == "lb" else value
    return kg.quantize(GRAM, rounding=ROUND_HALF_UP)


def from_kg(kg: Decimal, unit: str) -> Decimal:
    """The load in ``unit``. Pounds to a tenth (102.5 kg reads 226.0 lb), or to the quarter that was
    typed: small plates make 132.25 lb, which is known by giving the same grams."""
    if unit != "lb":
        return kg.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
    pounds = kg / KG_PER_LB
    quarters = (pounds * 4).quantize(Decimal(1), rounding=ROUND_HALF_UP) / 4
    if to_kg(quarters, unit) == to_kg(kg, "kg"):
        return quarters
    return pounds.quantize(TENTH, rounding=ROUND_HALF_UP)


def shown(kg: Decimal, unit: str) -> str:
    """The number as it is written: no trailing zeros, no exponent ("150", "62.5"). What no plates
    of this unit make was lifted in the other: a tenth says it (290 lb read 131.5 kg)."""
    value = from_kg(kg, unit)
    if unit == "kg" and (value != kg or value % SMALLEST_STEP):
        value = kg.quantize(TENTH, rounding=ROUND_HALF_UP)
    return _plain(value)


def as_typed(kg: Decimal, unit: str) -> str:
    """The number as it was typed in ``unit``, which is known: to the gram, or a hundredth of a
    pound, whichever plates make it."""
    if unit != "lb":
        return _plain(to_kg(kg, "kg"))
    return _plain((kg / KG_PER_LB).quantize(Decimal("0.01"), rounding=ROUND_HALF_UP))


def _plain(value: Decimal) -> str:
    text = f"{value:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
