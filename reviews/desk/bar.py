"""The evening drawn as a bar of minutes, one segment per submission."""

from dataclasses import dataclass

from reviews.desk.evening import BAR_EVENINGS, Evening
from reviews.desk.queries import Section


@dataclass(frozen=True)
class Segment:
    """Place and length in per cent of the bar; ``kind`` is a class of desk.css."""

    x: float
    width: float
    kind: str


@dataclass(frozen=True)
class Bar:
    segments: list[Segment]
    cut: float | None  # where the time ends, in per cent; None when all of it fits
    runs_on: bool  # the rest is longer than the bar


def _kind(section: Section, fits: bool) -> str:
    if not fits:
        return "outside"
    return "first" if section == Section.FIRST else "inside"


def bar_of(evening: Evening) -> Bar:
    """Segments of the free queue, up to twice the time there is tonight."""
    whole = sum(slot.minutes for slot in evening.slots)
    length = min(whole, max(BAR_EVENINGS * evening.tonight, evening.fit_minutes))
    segments, at = [], 0.0
    for slot in evening.slots:
        if at >= length:
            break
        width = min(slot.minutes, length - at)
        kind = _kind(slot.section, slot.fits)
        segments.append(Segment(100 * at / length, 100 * width / length, kind))
        at += width
    all_fit = len(evening.fitting) == evening.free
    cut = None if all_fit or not length else 100 * evening.fit_minutes / length
    return Bar(segments, cut, runs_on=evening.free_minutes > length + 0.5)
