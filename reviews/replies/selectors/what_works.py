"""What works: how often a fault was gone at the check-back, by the cue and the drill that was sent.

It counts what coaches said, of athletes who sent a check-back: neither a trial nor a cause.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

from django.db.models import Q

from reviews.library.merging import used_now
from reviews.library.models import Fault
from reviews.replies.models import Outcome, Result
from reviews.replies.services.save_note import drill_with_dose

Z95 = 1.959963984540054  # the normal's 97.5% point
FEWEST = 5  # outcomes; below that an interval spans nearly everything. Our choice, no source


def wilson(hits: int, of: int) -> tuple[float, float]:
    """The 95% interval of hits / of (Wilson score), without continuity correction, both ends within
    0 and 1. Wilson EB, J Am Stat Assoc 1927;22:209-212; compared by Newcombe RG, Stat Med
    1998;17:857-872.

    None of `of` gives exactly 0 at the low end, all of them exactly 1 at the high end. Raises
    ValueError for a share of nothing.
    """
    if not 0 <= hits <= of or of == 0:
        raise ValueError(f"{hits} of {of} is no share.")
    share, z2 = hits / of, Z95**2
    middle = share + z2 / (2 * of)
    reach = Z95 * sqrt(share * (1 - share) / of + z2 / (4 * of**2))
    low, high = ((middle + sign * reach) / (1 + z2 / of) for sign in (-1, 1))
    return (0.0 if hits == 0 else low, 1.0 if hits == of else high)


@dataclass(frozen=True)
class Tally:
    """The outcomes of one fault, cue or drill. "Can't tell" is told of and never counted."""

    name: str
    results: list[str]

    @property
    def told(self) -> int:
        return sum(result != Result.CANNOT_TELL for result in self.results)

    @property
    def unsure(self) -> int:
        return len(self.results) - self.told

    @property
    def gone(self) -> int:
        return self.results.count(Result.GONE)

    @property
    def better(self) -> int:
        return self.results.count(Result.BETTER)

    @property
    def enough(self) -> bool:
        return self.told >= FEWEST

    @property
    def percent(self) -> int:
        return round(100 * self.gone / self.told)

    @property
    def low(self) -> int | None:
        """The 95% interval of "gone", in percent: its low end; None without an outcome."""
        return round(100 * wilson(self.gone, self.told)[0]) if self.told else None

    @property
    def high(self) -> int | None:
        return round(100 * wilson(self.gone, self.told)[1]) if self.told else None


@dataclass(frozen=True)
class WhatWorks:
    """The fault as a whole, then its cues and its drills, the most used first."""

    fault: Tally
    cues: list[Tally]
    drills: list[Tally]


def what_works(fault: Fault) -> WhatWorks:
    """Over the newest word on each point that named this fault, or one merged into it; a cue or
    drill that was merged counts for the one that stays. One statement."""
    named = Outcome.objects.newest().filter(Q(fault=fault) | Q(fault__merged_into=fault))
    rows = named.select_related("cue__merged_into", "drill__merged_into")
    said = [(_cue(row), _drill(row), row.result) for row in rows]
    return WhatWorks(
        fault=Tally(fault.name, [result for _, _, result in said]),
        cues=_tallies((cue, result) for cue, _, result in said),
        drills=_tallies((drill, result) for _, drill, result in said),
    )


def _cue(said: Outcome) -> str:
    kept = said.cue and used_now(said.cue)
    return said.cue_text if kept is None or kept == said.cue else kept.text


def _drill(said: Outcome) -> str:
    kept = said.drill and used_now(said.drill)
    return said.drill_text if kept is None or kept == said.drill else drill_with_dose(kept)


def _tallies(rows: Iterable[tuple[str, str]]) -> list[Tally]:
    by: dict[str, Tally] = {}
    for name, result in rows:
        if name:
            by.setdefault(name, Tally(name, [])).results.append(result)
    return sorted(by.values(), key=lambda tally: (-len(tally.results), tally.name))
