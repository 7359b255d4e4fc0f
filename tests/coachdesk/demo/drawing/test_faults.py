"""Each fault changes what it says it changes, grows with rep and load, and nothing else does."""

import numpy as np
import pytest

from coachdesk.demo.drawing.fault_motion import FAULTS, check, strengths
from coachdesk.demo.drawing.spec import BEST_KG, ClipSpec
from tests.coachdesk.demo.drawing.measuring import Lift, heavy


def _knees_apart(seen: Lift) -> float:
    span = seen.during("ascent")
    return float((seen.sk["knee_left"] - seen.sk["knee_right"])[span, 1].min())


def _tilt(seen: Lift) -> float:
    return float(np.degrees(np.arcsin(seen.sk["bar_axis"][:, 2])).min())


def _depth(seen: Lift) -> float:
    at = seen.at("turnaround", 0.5)
    return float(seen.sk["hip_left"][at, 2] - seen.sk["knee_left"][at, 2])


def _bend(seen: Lift) -> float:
    return float(180 - seen.angle("pelvis", "waist", "chest").min())


def _forward(seen: Lift) -> float:
    return float(seen.sk["bar"][seen.during("ascent"), 0].max())


def _lean(seen: Lift) -> float:
    return float(seen.lean()[seen.at("ascent", 0.3)])


def _knee_at_lockout(seen: Lift) -> float:
    return float(seen.angle("hip_left", "knee_left", "ankle_left")[seen.at("lockout", 0.5)])


def _elbow_at_lockout(seen: Lift) -> float:
    return float(seen.angle("shoulder_left", "elbow_left", "hand_left")[seen.at("lockout", 0.5)])


def _fastest_down(seen: Lift) -> float:
    return float(-np.diff(seen.sk["bar"][seen.during("descent"), 2]).min() * 60)


# fault, what is measured, the least change the fault at full strength must make (m, degrees, m/s)
SHOWS = [
    ("squat", "hips_rise_first", _lean, 10),
    ("squat", "knees_in", _knees_apart, -0.15),
    ("squat", "depth_short", _depth, 0.10),
    ("squat", "back_rounds", _bend, 12),
    ("squat", "heels_lift", lambda s: s.sk["heel_left"][:, 2].max(), 0.04),
    ("squat", "bar_drifts_forward", _forward, 0.05),
    ("squat", "weight_shift", lambda s: s.sk["pelvis"][:, 1].min(), -0.06),
    ("squat", "soft_lockout", _knee_at_lockout, -15),
    ("squat", "bounce", _fastest_down, 0.3),
    ("bench_press", "uneven_press", _tilt, -5),
    (
        "bench_press",
        "elbows_ahead",
        lambda s: (s.sk["elbow_left"] - s.sk["bar"])[s.at("turnaround", 0.5), 0],
        0.05,
    ),
    ("bench_press", "depth_short", lambda s: s.sk["bar"][:, 2].min(), 0.03),
    ("bench_press", "bar_drifts_forward", lambda s: s.sk["bar"][s.at("ascent", 0.5), 0], 0.05),
    ("bench_press", "hips_off_bench", lambda s: s.sk["pelvis"][:, 2].max(), 0.06),
    ("bench_press", "soft_lockout", _elbow_at_lockout, -15),
    ("bench_press", "bounce", _fastest_down, 0.15),
    ("deadlift", "hips_low_start", lambda s: s.sk["pelvis"][s.at("setup", 1.0), 2], -0.08),
    ("deadlift", "hips_rise_first", _lean, 6),
    ("deadlift", "back_rounds", _bend, 15),
    ("deadlift", "bar_drifts_forward", _forward, 0.05),
    ("deadlift", "knees_in", _knees_apart, -0.08),
    ("deadlift", "soft_lockout", lambda s: s.lean()[s.at("lockout", 0.5)], 5),
    ("deadlift", "uneven_pull", _tilt, -3),
    ("overhead_press", "leans_back", lambda s: s.lean().min(), -8),
    ("overhead_press", "bar_drifts_forward", lambda s: s.sk["bar"][s.at("ascent", 0.7), 0], 0.06),
    (
        "overhead_press",
        "elbows_behind",
        lambda s: (s.sk["elbow_left"] - s.sk["bar"])[s.at("setup", 0.9), 0],
        -0.05,
    ),
    ("overhead_press", "uneven_press", _tilt, -5),
    (
        "overhead_press",
        "knees_dip",
        lambda s: s.angle("hip_left", "knee_left", "ankle_left").min(),
        -20,
    ),
    ("overhead_press", "soft_lockout", _elbow_at_lockout, -15),
]


def test_every_fault_has_its_check():
    named = {(lift, fault) for lift, fault, *_ in SHOWS}
    assert named == {(lift, fault) for lift, faults in FAULTS.items() for fault in faults}


@pytest.mark.parametrize(("lift", "fault", "measure", "least"), SHOWS)
def test_a_fault_shows(lift, fault, measure, least):
    clean = measure(Lift(heavy(lift)))
    change = measure(Lift(heavy(lift, faults={fault: 1.0}))) - clean
    assert change / least >= 1, change
    half = measure(Lift(heavy(lift, faults={fault: 0.5}))) - clean
    assert abs(half) < abs(change)


def test_faults_grow_rep_by_rep_and_with_load():
    def of(share: float) -> list[float]:
        return strengths(ClipSpec(load_kg=share * 160, faults={"knees_in": 0.8}))["knees_in"]

    assert of(0.6) == [0, 0, 0]
    assert of(0.95)[-1] == pytest.approx(0.8)
    assert of(0.95)[0] < of(0.95)[1] < of(0.95)[2]
    assert of(0.7)[-1] < of(0.8)[-1] < of(0.9)[-1]


@pytest.mark.parametrize(
    "wrong",
    [
        {"lift": "curl"},
        {"variant": "sumo"},
        {"view": "above"},
        {"faults": {"hips_low_start": 1.0}},
        {"reps": 0},
        {"size": (321, 640)},
    ],
)
def test_what_cannot_be_drawn_is_refused(wrong):
    with pytest.raises(ValueError):  # noqa: PT011 - each case has its own sentence
        check(ClipSpec(**wrong))


def test_default_loads_are_known_for_every_lift():
    assert set(BEST_KG) == set(FAULTS)
