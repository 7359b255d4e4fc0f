"""From what is prescribed to what goes on the bar. Pure: no database, exact decimals.

A percentage follows the current max. What is not known stays unknown, with the reason in words.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from typing import Protocol

from coachdesk.common.units import GRAM, shown
from programming.load.effort import effort_label
from programming.load.percent import percent, percent_at_reserve
from programming.plans.plates import Loaded, Plates, nearest

THIN = "\u2009"
KG, TECHNICAL, BEST, RPE, RIR, FEEL = "kg", "technical", "best", "rpe", "rir", ""


class Known(Protocol):
    """A max as it stands; the band says how sure it is."""

    @property
    def kg(self) -> Decimal: ...
    @property
    def low_kg(self) -> Decimal: ...
    @property
    def high_kg(self) -> Decimal: ...


@dataclass(frozen=True)
class Maxes:
    """The current maxes of one movement. The two are never mixed."""

    technical: Known | None = None
    best: Known | None = None


@dataclass(frozen=True)
class Asked:
    """A prescription's target: kg, per cent, RPE or reps in reserve as ``kind`` says."""

    kind: str
    target: Decimal | None
    reps: int
    cap_percent: Decimal | None = None


@dataclass(frozen=True)
class Resolved:
    """``kg``: what to load, None where it is not known or left to the day. ``exact_kg``: before
    rounding. ``how``: the formula in words. ``plates``: how the bar is loaded, None where it is
    not. ``suggested``: the effort decides and the number only helps to start."""

    kg: Decimal | None
    exact_kg: Decimal | None
    how: str
    plates: Loaded | None = None
    suggested: bool = False
    capped: bool = False

    @property
    def side(self) -> tuple[Decimal, ...] | None:
        """The plates of one side, inside first."""
        return self.plates.side if self.plates else None


NO_TECHNICAL = "no technical max yet: lift one to standard first"
NO_BEST = "no best max yet: log a heavy set first"


def resolve(asked: Asked, maxes: Maxes, plates: Plates, unit: str = "kg") -> Resolved:
    """What goes on the bar. ``unit`` is the reader's, for the words.

    The result is loadable with these plates and never above the cap; lighter than the empty bar
    it is left as asked, for whatever else it is lifted with.
    """
    exact, words, trouble = _exact(asked, maxes, unit)
    suggested = asked.kind in {RPE, RIR}
    if trouble or exact is None:
        return Resolved(None, None, trouble or words, suggested=suggested)
    cap, trouble = _cap(asked, maxes, unit)
    if trouble:
        return Resolved(None, exact, trouble, suggested=suggested)
    capped = cap is not None and exact > cap
    if cap is not None and capped:
        words += (
            f"; capped at {_number(asked.cap_percent)}% of the technical max, {_load(cap, unit)}"
        )
    wanted = min(exact, cap) if cap is not None else exact
    return _rounded(wanted, exact, cap, plates, words, unit, suggested=suggested, capped=capped)


def _rounded(
    wanted: Decimal,
    exact: Decimal,
    cap: Decimal | None,
    plates: Plates,
    words: str,
    unit: str,
    *,
    suggested: bool,
    capped: bool,
) -> Resolved:
    if wanted < plates.bar_kg:
        bar = f"{_number(plates.bar)}{THIN}{plates.unit}"
        how = f"{words}; lighter than the {bar} bar, so as asked"
        return Resolved(wanted, exact, how, suggested=suggested, capped=capped)
    on = nearest(wanted, plates, cap)
    assert on is not None  # the empty bar is not above what was wanted
    if on.kg != wanted:
        words += f", loads to {_load(on.kg, unit)}"
    return Resolved(on.kg, exact, words, on, suggested=suggested, capped=capped)


def _exact(asked: Asked, maxes: Maxes, unit: str) -> tuple[Decimal | None, str, str]:
    """(kg, how, why not)."""
    target = asked.target
    if asked.kind == FEEL or target is None:
        return None, "by feel", ""
    if asked.kind == KG:
        return target, f"{_load(target, unit)} as written", ""
    if asked.kind in {TECHNICAL, BEST}:
        known = maxes.technical if asked.kind == TECHNICAL else maxes.best
        if known is None:
            return None, "", NO_TECHNICAL if asked.kind == TECHNICAL else NO_BEST
        name = f"the {asked.kind} max"
        return _share(target, known), _share_words(target, known, name, unit), ""
    return _from_effort(asked, target, maxes, unit)


def _from_effort(
    asked: Asked, target: Decimal, maxes: Maxes, unit: str
) -> tuple[Decimal | None, str, str]:
    effort = effort_label(*((target, None) if asked.kind == RPE else (None, target)))
    at = percent if asked.kind == RPE else percent_at_reserve
    share = float(at(asked.reps, float(target)))
    if share != share:  # not a number: outside of what the table holds
        return None, "", f"{effort} for {asked.reps} is outside the table: no load suggested"
    known, name = (
        (maxes.technical, "the technical max") if maxes.technical else (maxes.best, "the best max")
    )
    if known is None:
        return None, "", f"{effort}: no max yet, so no load suggested"
    points = Decimal(repr(share)).quantize(Decimal("0.1"))
    words = (
        f"{effort} for {asked.reps} is about {_share_words(points, known, name, unit)} (derived)"
    )
    return _share(points, known), words, ""


def _cap(asked: Asked, maxes: Maxes, unit: str) -> tuple[Decimal | None, str]:
    if asked.cap_percent is None:
        return None, ""
    if maxes.technical is None:
        return None, f"capped at {_number(asked.cap_percent)}%, but {NO_TECHNICAL}"
    return _share(asked.cap_percent, maxes.technical), ""


def _share(points: Decimal, known: Known) -> Decimal:
    return (known.kg * points / 100).quantize(GRAM, rounding=ROUND_HALF_UP)


def _share_words(points: Decimal, known: Known, name: str, unit: str) -> str:
    exact = _load(_share(points, known), unit)
    return f"{_number(points)}% of {name}, {_load(known.kg, unit)}, is {exact}"


def _load(kg: Decimal, unit: str) -> str:
    return f"{shown(kg, unit)}{THIN}{unit}"


def _number(value: Decimal | None) -> str:
    return f"{(value or Decimal(0)).normalize():f}"
