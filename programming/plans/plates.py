"""What can be put on a bar, and the loadable weight that is nearest to a wanted one. Pure."""

import re
from dataclasses import dataclass
from decimal import Decimal
from functools import lru_cache

from coachdesk.common.errors import Invalid
from coachdesk.common.units import to_kg

Pairs = tuple[tuple[Decimal, int], ...]
PAIR = re.compile(r"([0-9]{1,3}(?:\.[0-9]{1,3})?) ?(?:[x*×] ?([0-9]{1,2}))?")

# A common set, no source: what most gyms have. Shown as an assumption until the athlete tells.
USUAL_BAR = {"kg": Decimal(20), "lb": Decimal(45)}
USUAL_PAIRS: dict[str, Pairs] = {
    "kg": tuple((Decimal(weight), n) for weight, n in
                (("25", 5), ("20", 1), ("15", 1), ("10", 1), ("5", 1), ("2.5", 1), ("1.25", 1))),
    "lb": tuple((Decimal(weight), n) for weight, n in
                (("45", 6), ("35", 1), ("25", 1), ("10", 2), ("5", 1), ("2.5", 1))),
}  # fmt: skip
LIGHTEST_BAR, HEAVIEST_BAR = Decimal("0.5"), Decimal(100)
# Beyond any bar: a longer list of plates would only make the sums below slow.
MOST_PAIRS = 40


@dataclass(frozen=True)
class Plates:
    """A bar and the pairs at hand, all in ``unit``. ``told``: by the athlete, or assumed."""

    unit: str
    bar: Decimal
    pairs: Pairs  # (weight of one plate, pairs of it), heaviest first
    told: bool = True

    @classmethod
    def usual(cls, unit: str) -> "Plates":
        return cls(unit, USUAL_BAR[unit], USUAL_PAIRS[unit], told=False)

    @property
    def written(self) -> str:
        """The pairs as `read_pairs` reads them."""
        return written_pairs(self.pairs)

    @property
    def loads(self) -> list[Decimal]:
        """Every weight that the bar can be loaded to, the lightest first."""
        return [one.total for one in loadable(self)]

    @property
    def bar_kg(self) -> Decimal:
        return to_kg(self.bar, self.unit)


@dataclass(frozen=True)
class Loaded:
    """A weight that the bar can be loaded to; ``side``: the plates of one side, inside first."""

    kg: Decimal
    total: Decimal  # in the plates' own unit
    side: tuple[Decimal, ...]


@lru_cache(maxsize=256)
def loadable(plates: Plates) -> tuple[Loaded, ...]:
    """Every weight of this bar and these plates, lightest first, each with the fewest plates.

    >>> [str(one.total) for one in loadable(Plates("kg", Decimal(20), ((Decimal(5), 2),)))]
    ['20', '30', '40']
    """
    sides: dict[Decimal, tuple[Decimal, ...]] = {Decimal(0): ()}
    left = MOST_PAIRS
    for weight, pairs in sorted(plates.pairs, reverse=True):
        number = min(pairs, left)
        left -= number
        for known, side in list(sides.items()):
            for extra in range(1, number + 1):
                total, longer = known + weight * extra, side + (weight,) * extra
                if total not in sides or _handier(longer, sides[total]):
                    sides[total] = longer
    totals = sorted((plates.bar + 2 * side, on) for side, on in sides.items())
    return tuple(Loaded(to_kg(total, plates.unit), total, on) for total, on in totals)


def _handier(one: tuple[Decimal, ...], other: tuple[Decimal, ...]) -> bool:
    """Fewer plates to carry; of as many, the heavier inside: 25, 25, 10 and not 25, 20, 15."""
    return (-len(one), one) > (-len(other), other)


def nearest(kg: Decimal, plates: Plates, cap_kg: Decimal | None = None) -> Loaded | None:
    """The loadable weight nearest to ``kg`` and not above ``cap_kg``; of two as near, the lighter.
    None where even the empty bar is above the cap."""
    allowed = [one for one in loadable(plates) if cap_kg is None or one.kg <= cap_kg]
    return min(allowed, key=lambda one: (abs(one.kg - kg), one.kg), default=None)


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
