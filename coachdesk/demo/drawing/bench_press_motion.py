"""The bench press: on the back, feet planted, bar from lockout to the chest and up."""

import numpy as np

from coachdesk.demo.drawing.body import Body, Skeleton
from coachdesk.demo.drawing.limbs import (
    Stance,
    add_bar,
    add_feet,
    add_legs,
    add_pressing_arms,
    add_spine,
)
from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.timing import Samples
from coachdesk.demo.drawing.vectors import Floats, hump, vec

PAD_HEIGHT = 0.43
GRIP = 0.37
PELVIS_X = 0.28
# The spine runs from the pelvis towards the head (-x); the arch lifts the ribs. From memory.
ARCH = (np.radians(-72), np.radians(-88), np.radians(-100))
CHEST_HALF = 0.135


def _bar_path(body: Body, s: Samples, shoulder: Floats, chest: Floats) -> tuple[Floats, Floats]:
    """Bar x and z: from over the shoulders to the lower chest, a curve as lifters press it."""
    low = np.clip(1 - s.height, -0.2, 1.2)
    across = GRIP - body.shoulder_half
    top_x = shoulder[:, 0] + 0.02
    drift = 0.10 * s.fault("bar_drifts_forward") * s.up * hump(s.height, 0.0, 1.0)
    reach = body.arm * (1 - 0.02 * s.fault("uneven_press") - 0.07 * s.fault("soft_lockout"))
    top_z = shoulder[:, 2] + np.sqrt(reach**2 - across**2 - 0.02**2)
    touch_x = chest[:, 0] + 0.045
    touch_z = chest[:, 2] + CHEST_HALF + 0.016 + 0.09 * s.fault("depth_short")
    bar_x = top_x + (touch_x - top_x) * np.clip(low, 0, 1) ** 1.3 + drift
    bar_z = top_z + (touch_z - top_z) * low
    room = np.sqrt(np.maximum(reach**2 - across**2 - (bar_x - shoulder[:, 0]) ** 2, 0.01))
    return bar_x, np.minimum(bar_z, shoulder[:, 2] + room)


def pose(spec: ClipSpec, body: Body, s: Samples) -> Skeleton:
    """All joints and the bar at the sample times."""
    sk: Skeleton = {}
    scale = body.height / 1.75
    zero = np.zeros_like(s.t)
    add_feet(sk, body, Stance(0.27, np.radians(18), PELVIS_X + 0.27 * scale), zero)
    raised = 0.085 * s.fault("hips_off_bench") * s.up * hump(s.height, 0.0, 1.0)
    angles = (
        ARCH[0] - 3.2 * raised * 0.8 + 1.5 * s.sway,
        ARCH[1] - 2.2 * raised * 0.8,
        ARCH[2] - 0.8 * raised,
    )
    pelvis = vec(zero + PELVIS_X, 0.0, PAD_HEIGHT + 0.105 + raised)
    add_spine(sk, body, pelvis, angles, zero)
    add_legs(sk, body, zero + np.radians(24))
    sk["head"] = vec(sk["neck"][:, 0] - 0.165 * scale, 0.0, PAD_HEIGHT + 0.105)
    sk["gaze"] = vec(zero + 0.15, 0.0, 1.0)
    tilt = -np.radians(6.5) * s.fault("uneven_press") * s.up * hump(s.height, 0.05, 0.99)
    bar_x, bar_z = _bar_path(body, s, sk["neck"], sk["chest"])
    add_bar(sk, vec(bar_x, 0.0, bar_z - 0.35 * GRIP * np.abs(np.sin(tilt))), tilt, GRIP)
    low = np.clip(1 - s.height, 0, 1) ** 0.5
    add_pressing_arms(sk, body, 0.26 * s.fault("elbows_ahead") * low)
    return sk
