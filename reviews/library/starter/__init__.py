"""The library a club starts with: our own words for what coaches of the trade see and say.

Where a fault touches a competition rule the text says so and leaves the decision to the
federation's current book. Nothing here is a diagnosis.
"""

from programming.movements.families import Family
from reviews.library.starter.bench import BENCH
from reviews.library.starter.deadlift import DEADLIFT
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault
from reviews.library.starter.press import PRESS
from reviews.library.starter.squat import SQUAT

STARTER: dict[Family, list[StarterFault]] = {
    Family.SQUAT: SQUAT,
    Family.BENCH: BENCH,
    Family.DEADLIFT: DEADLIFT,
    Family.PRESS: PRESS,
}

__all__ = ["STARTER", "StarterCue", "StarterDrill", "StarterFault"]
