"""Kilograms and pounds. Loads are stored in kilograms as decimals, shown in the reader's unit."""

from decimal import ROUND_HALF_UP, Decimal

# Exact by definition: the international avoirdupois pound (1959).
KG_PER_LB = Decimal("0.45359237")
GRAM = Decimal("0.001")


def to_kg(value: Decimal, unit: str) -> Decimal:
    """Kilograms to the gram, from a load typed in ``unit`` ("kg" or "lb")."""
    kg = value * KG_PER_LB if unit == "lb" else value
    return kg.quantize(GRAM, rounding=ROUND_HALF_UP)


def from_kg(kg: Decimal, unit: str) -> Decimal:
    """The load in ``unit``, to a tenth: 102.5 kg reads 226.0 lb."""
    value = kg / KG_PER_LB if unit == "lb" else kg
    step = Decimal("0.1") if unit == "lb" else Decimal("0.01")
    return value.quantize(step, rounding=ROUND_HALF_UP)


def shown(kg: Decimal, unit: str) -> str:
    """The number as it is written: no trailing zeros, no exponent ("150", "62.5")."""
    text = f"{from_kg(kg, unit):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
