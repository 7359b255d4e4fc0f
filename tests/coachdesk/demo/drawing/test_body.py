"""The skeleton obeys bones, floor and bar in every frame of every lift and fault."""

import numpy as np
import pytest

from coachdesk.demo.drawing.body import SIDES, body_of
from coachdesk.demo.drawing.fault_motion import FAULTS
from tests.coachdesk.demo.drawing.measuring import KINDS, Lift, heavy

# Pairs of joints that a bone holds at one distance.
BONES: tuple[tuple[str, str], ...] = (
    ("pelvis", "waist"),
    ("waist", "chest"),
    ("chest", "neck"),
    *(
        (f"{a}_{side}", f"{b}_{side}")
        for side in SIDES
        for a, b in (
            ("shoulder", "elbow"),
            ("elbow", "hand"),
            ("hip", "knee"),
            ("knee", "ankle"),
            ("heel", "toe"),
        )
    ),
)
EVERY = [(lift, kind, fault) for lift, kind in KINDS for fault in (None, *FAULTS[lift])]


@pytest.mark.parametrize(("lift", "kind", "fault"), EVERY)
def test_bones_feet_hands_and_time(lift, kind, fault):
    seen = Lift(heavy(lift, kind, faults={fault: 1.0} if fault else {}))
    for a, b in BONES:
        lengths = np.linalg.norm(seen.sk[a] - seen.sk[b], axis=1)
        assert np.ptp(lengths) < 1e-6, (a, b)
    for side in SIDES:
        toe = seen.sk[f"toe_{side}"]
        assert np.ptp(toe, axis=0).max() < 1e-9
        if fault != "heels_lift":
            assert np.ptp(seen.sk[f"heel_{side}"], axis=0).max() < 1e-9
        arm = seen.sk[f"hand_{side}"] - seen.sk["bar"]
        assert np.allclose(np.cross(arm, seen.sk["bar_axis"]), 0, atol=1e-9)
    # Nothing jumps: a joint that changed speed by 0.8 m/s within a sixtieth would look cut.
    joints = [v for name, v in seen.sk.items() if name not in ("gaze", "bar_axis")]
    assert max(np.abs(np.diff(v, 2, axis=0)).max() * 60 for v in joints) < 0.8


@pytest.mark.parametrize("height", [1.52, 1.75, 1.98])
@pytest.mark.parametrize(("lift", "kind"), KINDS)
def test_every_height_can_lift(lift, kind, height):
    seen = Lift(heavy(lift, kind, height=height))
    for a, b in BONES:
        assert np.ptp(np.linalg.norm(seen.sk[a] - seen.sk[b], axis=1)) < 1e-6


def test_proportions_of_standing_height():
    # Drillis and Contini 1966, fractions of standing height, from memory: ankle 0.039 + shank
    # 0.246 + thigh 0.245 = 0.530 (hip height), trunk 0.288 more to the shoulder (0.818).
    body = body_of(1.8)
    assert body.ankle + body.shank + body.thigh == pytest.approx(0.530 * 1.8)
    assert body.ankle + body.shank + body.thigh + body.trunk == pytest.approx(0.818 * 1.8)


# Vertical travel of the bar in metres: plausible limits from memory, no source.
TRAVEL = {
    "squat": (0.45, 0.80),
    "bench_press": (0.28, 0.52),
    "deadlift": (0.40, 0.65),
    "overhead_press": (0.45, 0.75),
}


@pytest.mark.parametrize(("lift", "kind"), KINDS)
def test_bar_travel_and_path(lift, kind):
    seen = Lift(heavy(lift, kind))
    height = seen.sk["bar"][:, 2]
    low, high = TRAVEL[lift]
    assert low < np.ptp(height) < high
    if lift in ("squat", "deadlift"):
        # Coaching practice, no source: the bar stays over mid-foot (x = 0 here).
        assert np.abs(seen.sk["bar"][:, 0]).max() < 0.03
    if lift == "deadlift":
        # A 0.45 m disc on the floor holds the bar's centre at 0.225 m.
        assert height.min() == pytest.approx(0.225, abs=1e-9)


@pytest.mark.parametrize(("lift", "kind"), KINDS)
def test_bar_rises_through_the_whole_ascent(lift, kind):
    seen = Lift(heavy(lift, kind))
    rise = np.diff(seen.sk["bar"][seen.during("ascent"), 2])
    assert (rise > -1e-4).all()


def test_clean_squat_is_below_parallel_by_joints():
    seen = Lift(heavy("squat"))
    at = seen.at("turnaround", 0.5)
    assert seen.sk["hip_left"][at, 2] < seen.sk["knee_left"][at, 2] - 0.03
