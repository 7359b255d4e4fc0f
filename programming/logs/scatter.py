"""Filmed sets of one movement over load: where they stop being to standard. Pure."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_CEILING, ROUND_FLOOR, Decimal

from coachdesk.common.units import from_kg, shown, to_kg

EDGE = 4  # per cent of the width left free at either end
ROW = 12  # px between two sets of one load
TICKS = tuple(map(Decimal, (5, 10, 20, 50, 100, 200, 500, 1000)))
MOST_TICKS = 6


@dataclass(frozen=True)
class Filmed:
    """A set of which at least one rep could be told."""

    day: date
    load_kg: Decimal
    reps: int
    to_standard: int
    clean: bool


@dataclass(frozen=True)
class Dot:
    """``x`` in per cent of the width, ``y`` in px."""

    x: float
    y: int


@dataclass(frozen=True)
class Tick:
    x: float
    label: str


@dataclass(frozen=True)
class Scatter:
    """Sets to standard above the line, the others below; ``line`` and ``height`` in px."""

    clean: list[Dot]
    broken: list[Dot]
    ticks: list[Tick]
    line: int
    height: int


def heavy_only(sets: Iterable[tuple[Decimal, bool]]) -> Decimal | None:
    """The lightest load (kg) a fault shows at, where every set without it was lighter. Common
    practice, no source: that is answered by less load and strength in the new position before more
    cues.

    ``sets``: (load in kg, whether the fault shows), only sets that could be told. None without a
    set of either kind: what was never seen light cannot be called heavy only.
    """
    loads: dict[bool, list[Decimal]] = {True: [], False: []}
    for load, shows in sets:
        loads[shows].append(load)
    if not loads[True] or not loads[False] or min(loads[True]) <= max(loads[False]):
        return None
    return min(loads[True])


def scatter_of(sets: Sequence[Filmed], unit: str) -> Scatter | None:
    """None where there is nothing to draw: fewer than two loads are no stretch of load."""
    loads = sorted({one.load_kg for one in sets})
    if len(loads) < 2:
        return None
    ticks = _ticks(loads[0], loads[-1], unit)
    low, high = min(loads[0], ticks[0]), max(loads[-1], ticks[-1])

    def across(kg: Decimal) -> float:
        return round(EDGE + float((kg - low) / (high - low)) * (100 - 2 * EDGE), 2)

    above = _stacked([one.load_kg for one in sets if one.clean])
    below = _stacked([one.load_kg for one in sets if not one.clean])
    line = ROW * (max((level for _, level in above), default=0) + 1)
    depth = ROW * (max((level for _, level in below), default=0) + 1)
    return Scatter(
        clean=[Dot(across(kg), line - ROW * level - 8) for kg, level in above],
        broken=[Dot(across(kg), line + ROW * level + 10) for kg, level in below],
        ticks=[Tick(across(kg), shown(kg, unit)) for kg in ticks],
        line=line,
        height=line + depth + 28,
    )


def _stacked(loads: Sequence[Decimal]) -> list[tuple[Decimal, int]]:
    seen: dict[Decimal, int] = {}
    found = []
    for kg in sorted(loads):
        found.append((kg, seen.get(kg, 0)))
        seen[kg] = seen.get(kg, 0) + 1
    return found


def _ticks(low_kg: Decimal, high_kg: Decimal, unit: str) -> list[Decimal]:
    """Round loads in the reader's unit that hold all sets between them, as kilograms."""
    low, high = from_kg(low_kg, unit), from_kg(high_kg, unit)
    for step in TICKS:
        first = int((low / step).to_integral_value(ROUND_FLOOR))
        last = int((high / step).to_integral_value(ROUND_CEILING))
        if last - first < MOST_TICKS:
            break
    return [to_kg(step * n, unit) for n in range(first, last + 1)]
