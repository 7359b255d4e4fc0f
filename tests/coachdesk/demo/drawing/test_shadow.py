"""Who stands on the floor has a shadow that begins at the sole (common practice of painters, no
source); one that is only soft is what something in the air casts."""

import numpy as np
import pytest

from coachdesk.demo.drawing.drawn_clip import Stage
from coachdesk.demo.drawing.planes import Planes
from coachdesk.demo.drawing.shadow import cast
from coachdesk.demo.drawing.spec import ClipSpec

LIFTS = [
    ("squat", "low_bar", "side"),
    ("squat", "high_bar", "front"),
    ("deadlift", "sumo", "45"),
    ("overhead_press", "strict", "side"),
    ("bench_press", "paused", "front"),
]
GREY = 180


def shadow_of(stage: Stage) -> np.ndarray:
    """The first frame's shadow as the share of light that is left, on a floor of one grey."""
    width, height = stage.spec.size
    chroma = np.full((height // 2, width // 2, 2), 128, np.uint8)
    floor = Planes(np.full((height, width), GREY, np.uint8), chroma)
    radius = max(plate.radius for plate in stage.plates)
    cast(floor, stage.cameras[0], stage.skeleton, 0, radius)
    return floor.luma / GREY


@pytest.mark.parametrize(("lift", "variant", "view"), LIFTS)
def test_a_foot_stands_on_its_shadow(lift: str, variant: str, view: str) -> None:
    spec = ClipSpec(lift=lift, variant=variant, view=view, reps=1, seed=3, size=(540, 960))
    stage = Stage(spec)
    light = shadow_of(stage)
    for side in ("left", "right"):
        toe, heel = (stage.skeleton[f"{end}_{side}"][0] for end in ("toe", "heel"))
        ahead = toe + np.array([0.3, 0.0, 0.0])
        (at, away), _ = stage.cameras[0].project(np.stack([(toe + heel) / 2, ahead]))
        assert light[round(at[1]), round(at[0])] < 0.65, side
        assert light[round(away[1]), round(away[0])] > 0.8, side


def test_a_disc_has_a_tight_shadow_only_where_it_rests() -> None:
    stage = Stage(ClipSpec(lift="deadlift", variant="conventional", view="side", reps=1, seed=3))
    frames = len(stage.ticks)
    below = []
    for frame in (0, frames // 2):
        index = frame * stage.subs
        end = stage.skeleton["bar"][index] - 0.8 * stage.skeleton["bar_axis"][index]
        ((x, y),), _ = stage.cameras[0].project(np.array([[end[0], end[1], 0.0]]))
        width, height = stage.spec.size
        chroma = np.full((height // 2, width // 2, 2), 128, np.uint8)
        floor = Planes(np.full((height, width), GREY, np.uint8), chroma)
        cast(floor, stage.cameras[0], stage.skeleton, index, stage.plates[0].radius)
        below.append(floor.luma[round(y), round(x)] / GREY)
    assert below[0] < 0.6 < 0.75 < below[1]
