"""A prescription as plain values, to keep beside a change and to put back."""

from decimal import Decimal
from typing import Any

from programming.plans.models import Prescription

# What a correction may touch. Where it stands (session, row, position) is not among it.
FIELDS = [
    "movement_id",
    "sets",
    "reps",
    "target_kind",
    "target",
    "unit",
    "cap_percent",
    "held",
    "tempo",
    "rest_seconds",
    "note",
]
DECIMALS = {"target", "cap_percent"}

Snapshot = dict[str, Any]


def snapshot(prescription: Prescription) -> Snapshot:
    """JSON values; a decimal is text without trailing zeros, so that equal numbers are equal."""
    return {name: _plain(name, getattr(prescription, name)) for name in FIELDS}


def restore(prescription: Prescription, values: Snapshot) -> None:
    """Put values back on the instance; saving is the caller's."""
    for name, value in values.items():
        number = name in DECIMALS and value is not None
        setattr(prescription, name, Decimal(value) if number else value)


def changed(before: Snapshot, after: Snapshot) -> set[str]:
    """The names of the fields that differ."""
    return {name for name in FIELDS if before[name] != after[name]}


def _plain(name: str, value: Any) -> Any:
    if name in DECIMALS and value is not None:
        return f"{Decimal(value).normalize():f}"
    return value
