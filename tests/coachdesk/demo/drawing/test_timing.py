"""Reps and phases follow the glossary, cover the clip, and slow down as loads do."""

from itertools import pairwise

import numpy as np
import pytest

from coachdesk.demo.drawing.lift_motion import plan
from coachdesk.demo.drawing.spec import BEST_KG, ClipSpec
from tests.coachdesk.demo.drawing.measuring import KINDS, Lift, heavy

DOWN_FIRST = ["setup", "descent", "turnaround", "ascent", "lockout"]
FROM_THE_FLOOR = ["setup", "ascent", "lockout", "return"]


@pytest.mark.parametrize(("lift", "kind"), KINDS)
def test_phases_follow_each_other_without_a_gap(lift, kind):
    line = plan(heavy(lift, kind, reps=3))
    flat = [phase for rep in line.reps for phase in rep.phases]
    expected = FROM_THE_FLOOR if lift in ("deadlift", "overhead_press") else DOWN_FIRST
    assert [p.name for p in flat] == expected * 3
    assert flat[0].start == 0
    assert flat[-1].end == pytest.approx(line.seconds)
    assert all(a.end == b.start for a, b in pairwise(flat))


def test_cutting_keeps_what_has_begun():
    line = plan(ClipSpec(seconds=2.0))
    assert line.seconds == 2.0
    assert [p.name for p in line.reps[0].phases] == ["setup", "descent"]
    assert line.reps[0].phases[-1].end == 2.0


def _mean_speed(spec: ClipSpec, rep: int = 0) -> float:
    seen = Lift(spec, rep)
    bar = seen.sk["bar"][seen.during("ascent"), 2]
    phase = seen.phases["ascent"]
    return float((bar[-1] - bar[0]) / (phase.end - phase.start))


# Mean concentric velocity at the best single, mean and SD in m/s: Helms et al. 2017, J Strength
# Cond Res 31(2):292-297 (15 powerlifters).
@pytest.mark.parametrize(
    ("lift", "mean", "sd"),
    [("squat", 0.23, 0.05), ("bench_press", 0.10, 0.04), ("deadlift", 0.14, 0.05)],
)
def test_speed_at_the_best_single(lift, mean, sd):
    assert abs(_mean_speed(heavy(lift, reps=1)) - mean) < 2 * sd


@pytest.mark.parametrize(("lift", "kind"), KINDS)
def test_heavier_and_later_reps_are_slower(lift, kind):
    light = ClipSpec(lift=lift, variant=kind, load_kg=0.7 * BEST_KG[lift])
    assert _mean_speed(heavy(lift, kind)) < 0.8 * _mean_speed(light)
    assert _mean_speed(heavy(lift, kind), rep=2) < _mean_speed(heavy(lift, kind), rep=0)


def test_heavy_squat_has_a_sticking_region():
    seen = Lift(heavy("squat"))
    span = seen.during("ascent")
    speed = np.diff(seen.sk["bar"][span, 2]) * 60
    third = len(speed) // 3
    # The speed dips below a neighbouring peak on both sides: slow, then slower, then through.
    dip = speed[third // 2 : 2 * third].min()
    assert dip < 0.8 * speed[: third // 2 + 5].max()
    assert dip < 0.8 * speed[third:].max()
