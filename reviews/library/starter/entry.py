"""The shape of an entry of the starter library."""

from dataclasses import dataclass, field

from programming.movements.families import Phase
from reviews.library.models import Breaks


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
    sight: dict[str, str]  # view -> mark: a row of `camera_views`
    causes: list[str]
    breaks: Breaks
    breaks_note: str
    goal_note: str
    cues: list[StarterCue]
    drills: list[StarterDrill] = field(default_factory=list)
