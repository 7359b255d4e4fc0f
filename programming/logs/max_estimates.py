"""The estimates of one stretch of days, between two maxes that were set by hand."""

from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_EVEN, Decimal
from typing import Any

import numpy as np

from programming.load.effort import reserve
from programming.load.estimates import MIDDLE
from programming.load.rises import NOTHING, START, Reached, Step, rises
from programming.logs.models import MaxRecord, MaxSource
from programming.logs.selectors.counted_sets import Lifted, bands_of

# An estimate is no finer than this (kg). It is rounded here and nowhere else, so that what is shown
# and what a percentage is taken of is the same number.
GRAIN = Decimal("0.5")
Kg = tuple[Decimal, Decimal, Decimal]  # low, middle, high


def stretch(sets: list[Lifted], before: MaxRecord | None) -> list[MaxRecord]:
    """The steps by which these sets raise the max above ``before``, as unsaved records without
    athlete, movement and kind. ``sets`` are of days after it, oldest first."""
    counted, kgs = _counted(sets)
    reached = START if before is None else Reached(float(before.kg), float(before.low_kg))
    steps = rises(
        np.array([one.day.toordinal() for one in counted], dtype=np.int64),
        np.array([float(middle) for _, middle, _ in kgs]),
        np.array([float(low) for low, _, _ in kgs]),
        reached,
    )
    return [_record(step, counted, kgs, before) for step in steps]


def _counted(sets: list[Lifted]) -> tuple[list[Lifted], list[Kg]]:
    band = bands_of(sets)
    counted, kgs = [], []
    for index in np.flatnonzero(~np.isnan(band.middle)):
        one = sets[index]
        edges = band.low[index], band.middle[index], band.high[index]
        counted.append(one)
        kgs.append(_rounded(one.load, *(float(edge) for edge in edges)))
    return counted, kgs


def _rounded(load: Decimal, low: float, middle: float, high: float) -> Kg:
    """The band outwards to the grain; what was lifted as a max stays what it was, to the gram."""
    exact = float(load)
    down, up = _to_grain(low, ROUND_FLOOR), _to_grain(high, ROUND_CEILING)
    return (
        load if low == exact else down,
        load if middle == exact else _to_grain(middle, ROUND_HALF_EVEN),
        load if high == exact else up,
    )


def _to_grain(kg: float, rounding: str) -> Decimal:
    # Past the gram there is only what floating point adds: without this 112.5 could round up.
    grams = Decimal(kg).quantize(Decimal("0.001"))
    return (grams / GRAIN).quantize(Decimal(1), rounding=rounding) * GRAIN


def _record(
    step: Step, counted: list[Lifted], kgs: list[Kg], before: MaxRecord | None
) -> MaxRecord:
    """One step. What did not rise stays as it stood before."""
    row = MaxRecord(source=MaxSource.ESTIMATE, day=date.fromordinal(step.day), inputs={})
    if step.best != NOTHING:
        one = counted[step.best]
        _, row.kg, row.high_kg = kgs[step.best]
        row.inputs = {"equation": MIDDLE.name, **facts(one), **_to_failure(one)}
    elif before is not None:
        row.kg, row.high_kg, row.inputs = before.kg, before.high_kg, dict(before.inputs)
    if step.floor != NOTHING:
        row.low_kg = kgs[step.floor][0]
        row.inputs["proved_by"] = facts(counted[step.floor])
    elif before is not None:
        row.low_kg = before.low_kg
        row.inputs["proved_by"] = before.inputs.get("proved_by")
    return row


def facts(one: Lifted) -> dict[str, Any]:
    """The set that an estimate rests on, as it is kept beside the number. Loads in kg."""
    return {
        "load": f"{one.load.normalize():f}",
        "reps": one.reps,
        "rpe": None if one.rpe is None else f"{one.rpe.normalize():f}",
        "day": one.day.isoformat(),
        "set": one.logged,
        "clip": one.clip,
    }


def _to_failure(one: Lifted) -> dict[str, Any]:
    """From how many to how many reps the set would have had if it had been taken to failure."""
    if one.rpe is None:
        return {"to_failure": [one.reps, None], "at_least": True}
    left = reserve(float(one.rpe))
    low, high = one.reps + int(left.low), one.reps + int(left.high)
    return {
        "to_failure": [low, high],
        "at_least": False,
        "could_add_load": bool(left.could_add_load),
    }
