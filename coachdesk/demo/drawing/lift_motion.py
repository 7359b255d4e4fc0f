"""From a spec to every joint at any time: the one door to the four lifts."""

from coachdesk.demo.drawing import (
    bench_press_motion,
    deadlift_motion,
    press_motion,
    squat_motion,
)
from coachdesk.demo.drawing.body import Skeleton, body_of
from coachdesk.demo.drawing.fault_motion import strengths
from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.timing import Samples, Timeline, sample, timeline_of
from coachdesk.demo.drawing.vectors import Floats

POSES = {
    "squat": squat_motion.pose,
    "bench_press": bench_press_motion.pose,
    "deadlift": deadlift_motion.pose,
    "overhead_press": press_motion.pose,
}


def plan(spec: ClipSpec) -> Timeline:
    """Reps and phases of the clip in seconds."""
    return timeline_of(spec, strengths(spec))


def move(spec: ClipSpec, line: Timeline, t: Floats) -> tuple[Samples, Skeleton]:
    """The lift at times t (seconds, shape (T,)): joints (T, 3) in metres by name.

    Besides joints the skeleton has `bar` (centre), `bar_axis` (unit, towards the lifter's left)
    and `gaze` (unit). x is forward from mid-foot, y left, z up from the floor.
    """
    samples = sample(spec, line, strengths(spec), t)
    return samples, POSES[spec.lift](spec, body_of(spec.height), samples)
