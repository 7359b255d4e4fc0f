"""What to draw: one value that fixes a clip down to its last pixel."""

from dataclasses import asdict, dataclass, field
from typing import Any

LIFTS = {
    "squat": ("low_bar", "high_bar"),
    "bench_press": ("paused", "touch_and_go"),
    "deadlift": ("conventional", "sumo"),
    "overhead_press": ("strict",),
}
VIEWS = ("side", "45", "front", "rear")
BEST_KG = {"squat": 160.0, "bench_press": 110.0, "deadlift": 190.0, "overhead_press": 70.0}


@dataclass(frozen=True)
class ClipSpec:
    """Everything that decides how a clip looks; the same spec draws the same frames.

    faults: name -> strength 0..1 that the fault reaches in the last rep at the lifter's best; it
    grows rep by rep and with load_kg / best_kg, as faults do (see `faults.strengths`).
    look: seed of the person (skin, hair, clothes) and their gym; None takes it from seed.
    seconds cuts the clip. size is (width, height) as seen upright. fps None takes the profile's
    own rate. shake, noise and blur belong to the hand and the sensor: 0 (or False) is none.
    Raises ValueError for an unknown lift, variant, view, profile or fault.
    """

    lift: str = "squat"
    variant: str = ""
    view: str = "side"
    load_kg: float = 100.0
    best_kg: float | None = None
    bar_kg: float = 20.0
    reps: int = 3
    height: float = 1.75
    seed: int = 1
    look: int | None = None
    faults: dict[str, float] = field(default_factory=dict)
    profile: str = "h264"
    fps: float | None = None
    size: tuple[int, int] = (720, 1280)
    seconds: float | None = None
    audio: bool = True
    counter: bool = False
    shake: float = 1.0
    noise: float = 1.0
    blur: bool = True

    @property
    def kind(self) -> str:
        """The variant, or the lift's usual one when none was named."""
        return self.variant or LIFTS[self.lift][0]

    @property
    def effort(self) -> float:
        """Load over the lifter's best, 0 to 1.1."""
        return min(1.1, self.load_kg / (self.best_kg or BEST_KG[self.lift]))

    def as_json(self) -> dict[str, Any]:
        """Plain values for the truth file."""
        return asdict(self)
