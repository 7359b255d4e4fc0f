"""The shape of an entry of the starter library."""

from dataclasses import dataclass, field

from programming.movements.families import Phase
from reviews.intake.models import View
from reviews.library.models import Breaks, Sight


@dataclass(frozen=True)
class StarterCue:
    """``outside``: it points at the bar, the floor or the room, not at a part of the body."""

    text: str
    outside: bool = True


@dataclass(frozen=True)
class StarterDrill:
    name: str
    dose: str


@dataclass(frozen=True)
class StarterFault:
    name: str
    phase: Phase
    see: str
    sight: dict[str, str]  # view -> what it can show, as Fault.sight
    causes: list[str]
    breaks: Breaks
    breaks_note: str
    goal_note: str
    cues: list[StarterCue]
    drills: list[StarterDrill] = field(default_factory=list)


def seen(side: Sight, quarter: Sight, front: Sight, rear: Sight) -> dict[str, str]:
    """What each of the four views can show of a fault."""
    views = [View.SIDE, View.QUARTER, View.FRONT, View.REAR]
    marks = [side, quarter, front, rear]
    return {view.value: mark.value for view, mark in zip(views, marks, strict=True)}
