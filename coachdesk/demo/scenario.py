"""The words the scenario is written in."""

from dataclasses import dataclass, field


@dataclass(frozen=True)
class Person:
    key: str
    name: str
    role: str = "athlete"
    coach: str = ""
    unit: str = "kg"

    @property
    def email(self) -> str:
        return f"{self.key}@quarrylane.example"


@dataclass(frozen=True)
class Shot:
    """One clip: what was lifted and how it is drawn."""

    movement: str
    lift: str
    kind: str
    load: float
    best: float
    reps: int
    rpe: str
    view: str = "side"
    faults: dict[str, float] = field(default_factory=dict)
    profile: str = "h264"
    shows_fault: bool = True
    cut_short: bool = False  # the file stops in the middle, as after a broken transfer


@dataclass(frozen=True)
class Pain:
    where: str
    score: int
    since: str
    signs: tuple[str, ...] = ()


@dataclass(frozen=True)
class DrillChange:
    """A drill that is added to the sessions to come because of a note."""

    movement: str
    sets: int
    reps: int
    rpe: int
    days: int = 21


@dataclass(frozen=True)
class Point:
    """A note: where in the rep it is seen, what the coach says about it, and what it changes."""

    fault: str
    text: str
    rep: int
    phase: str
    clip: int = 0
    at: float = 0.5  # how far through the phase
    ranked: bool = True
    change: DrillChange | None = None


@dataclass(frozen=True)
class Answer:
    coach: str
    after_hours: float
    opening: str
    points: tuple[Point, ...]
    broken: tuple[int, ...] = ()  # reps of the clip that shows the fault, not to standard
    film_again_days: int = 10
    film_again: str = ""
    understood: bool = False


@dataclass(frozen=True)
class Ask:
    who: str
    days_ago: float
    question: str
    tried: str
    goal: str
    shots: tuple[Shot, ...]
    equipment: tuple[str, ...] = ()
    pain: Pain | None = None
    answer: Answer | None = None
    claimed_by: str = ""
    check_back_of: str = ""  # the question it follows
    round_up: bool = False
