"""The library a club starts with: our own words for what coaches of the trade see and say.

Where a fault touches a competition rule the text says so and leaves the decision to the
federation's current book. Nothing here is a diagnosis.
"""

from programming.movements.families import Family
from reviews.library.starter.bench import BENCH
from reviews.library.starter.bench_setup import BENCH_SETUP
from reviews.library.starter.deadlift import DEADLIFT
from reviews.library.starter.deadlift_setup import DEADLIFT_SETUP
from reviews.library.starter.entry import StarterCue, StarterDrill, StarterFault
from reviews.library.starter.press import PRESS
from reviews.library.starter.press_setup import PRESS_SETUP
from reviews.library.starter.squat import SQUAT
from reviews.library.starter.squat_path import SQUAT_PATH
from reviews.library.starter.squat_setup import SQUAT_SETUP

STARTER: dict[Family, list[StarterFault]] = {
    Family.SQUAT: [*SQUAT_SETUP, *SQUAT, *SQUAT_PATH],
    Family.BENCH: [*BENCH_SETUP, *BENCH],
    Family.DEADLIFT: [*DEADLIFT_SETUP, *DEADLIFT],
    Family.PRESS: [*PRESS_SETUP, *PRESS],
}

__all__ = ["STARTER", "StarterCue", "StarterDrill", "StarterFault"]
