"""Two maxes as marks on one short stretch of kilograms, each with its range. Pure."""

from dataclasses import dataclass
from decimal import Decimal

from programming.logs.selectors.current_maxes import Max

WIDTH, EDGE = 224, 12  # units of the drawing
# A difference of a kilogram must not look like a chasm: the stretch is a tenth of the max at least.
LEAST_SHARE = Decimal("0.1")
ROOM = Decimal("0.08")  # of it on either side, so that a mark at an end is not cut by it


@dataclass(frozen=True)
class Mark:
    """Across, in drawing units. ``open_end``: it may lie anywhere further up."""

    at: float
    low: float
    high: float
    open_end: bool


@dataclass(frozen=True)
class RangeChart:
    technical: Mark | None
    best: Mark | None
    width: int = WIDTH
    start: int = EDGE
    end: int = WIDTH - EDGE


def range_chart_of(technical: Max | None, best: Max | None) -> RangeChart | None:
    """Both on the same scale, which does not begin at zero."""
    known = [one for one in (technical, best) if one is not None]
    if not known:
        return None
    low, high = min(one.low_kg for one in known), max(one.high_kg for one in known)
    missing = max(high * LEAST_SHARE - (high - low), Decimal(0)) / 2
    spare = missing + (high - low) * ROOM
    low, high = low - spare, high + spare

    def across(kg: Decimal) -> float:
        return round(EDGE + float((kg - low) / (high - low)) * (WIDTH - 2 * EDGE), 1)

    def mark(one: Max | None) -> Mark | None:
        if one is None:
            return None
        end = WIDTH - EDGE if one.at_least else across(one.high_kg)
        return Mark(across(one.kg), across(one.low_kg), end, one.at_least)

    return RangeChart(mark(technical), mark(best))
