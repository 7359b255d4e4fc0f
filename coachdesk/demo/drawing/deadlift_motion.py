"""The deadlift: straight arms, bar from the floor along the legs to standing."""

import numpy as np

from coachdesk.demo.drawing.body import Body, Skeleton
from coachdesk.demo.drawing.limbs import (
    Stance,
    add_arms,
    add_bar,
    add_feet,
    add_head,
    add_legs,
    add_spine,
    leg_room,
    rounded,
    spine_reach,
)
from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.timing import Samples
from coachdesk.demo.drawing.vectors import Floats, hump, length, vec

DISC_RADIUS = 0.225
# Stance, lean at the floor, shoulders ahead of the bar at the floor (m), half the grip (m).
VARIANTS = {
    "conventional": (Stance(0.13, np.radians(10)), np.radians(61), 0.055, 0.245),
    "sumo": (Stance(0.40, np.radians(40), -0.02), np.radians(47), 0.02, 0.175),
}
THIGH_TO_BAR = 0.058


def _shoulder_drop(body: Body, grip: float, ahead: Floats, slack: Floats) -> Floats:
    """Height of the shoulders above the bar with straight arms."""
    across = grip - body.shoulder_half
    return np.sqrt((body.arm * (1 - slack)) ** 2 - ahead**2 - across**2)


def _lean_for(sk: Skeleton, body: Body, neck: Floats, rounding: Floats, leg: Floats) -> Floats:
    """Trunk lean that puts the hips `leg` metres from the ankles under given shoulders.

    The search starts where the hips lie on the line from shoulders to ankles: that is the nearest
    they can be, and leaning from there only lengthens the leg, so there is one answer.
    """
    line = neck - sk["ankle_left"]
    low, high = np.arctan2(line[:, 0], line[:, 2]), np.full(len(leg), 1.9)
    offset = vec(0.0, body.hip_half, 0.0)
    for _ in range(28):
        middle = (low + high) / 2
        hip = neck - spine_reach(body, rounded(middle, rounding)) + offset
        short = length(hip - sk["ankle_left"]) < leg
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return (low + high) / 2


def pose(spec: ClipSpec, body: Body, s: Samples) -> Skeleton:
    """All joints and the bar at the sample times."""
    stance, lean0, ahead0, grip = VARIANTS[spec.kind]
    sk: Skeleton = {}
    h = np.clip(s.height, 0, 1)
    zero = np.zeros_like(h)
    add_feet(sk, body, stance, zero)
    tilt = -np.radians(4.5) * s.fault("uneven_pull") * s.up * hump(h, 0.02, 0.98)
    slack = 0.010 * s.fault("uneven_pull") * s.up * hump(h, 0.0, 1.0)
    rounding = np.radians(2) * (1 - h) + np.radians(25) * s.fault("back_rounds") * (1 - h) ** 1.2
    bar_x = zero + 0.085 * s.fault("bar_drifts_forward") * s.up * hump(h, 0.0, 0.95)
    hip_lock = np.full_like(h, -THIGH_TO_BAR * body.height)
    top = leg_room(sk, body, hip_lock, np.full_like(h, body.leg)) + body.trunk
    bar_top = top - _shoulder_drop(body, grip, hip_lock, zero)
    bar_top = bar_top - 0.045 * s.fault("soft_lockout")
    bar_z = DISC_RADIUS + (bar_top - DISC_RADIUS) * h
    ahead = ahead0 + (hip_lock - ahead0 + 0.05 * s.fault("soft_lockout")) * h**2.2
    neck = vec(bar_x + ahead, 0.0, bar_z + _shoulder_drop(body, grip, ahead, slack))
    low = lean0 - np.radians(17) * s.fault("hips_low_start") + zero
    floor_neck = vec(
        zero + ahead0, 0.0, DISC_RADIUS + _shoulder_drop(body, grip, zero + ahead0, zero)
    )
    start_hip = floor_neck - spine_reach(body, rounded(low, rounding))
    leg0 = length(start_hip + vec(0, body.hip_half, 0) - sk["ankle_left"])
    lead = 1 - (1 - h) ** 1.9
    early = 0.5 * s.fault("hips_rise_first") * s.up * hump(np.sqrt(h), 0.0, 0.95)
    leg1 = body.leg * (1 - 0.02 * s.fault("soft_lockout"))
    leg = np.minimum(leg0 + (leg1 - leg0) * (lead + early * (1 - lead) ** 0.5), leg1)
    lean = _lean_for(sk, body, neck, rounding, leg)
    pelvis = neck - spine_reach(body, rounded(lean, rounding))
    add_spine(sk, body, pelvis, rounded(lean, rounding), tilt)
    knees_in = np.radians(40) * s.fault("knees_in") * s.up * hump(h, 0.0, 0.7)
    add_legs(sk, body, stance.toes_out - knees_in)
    add_head(sk, body, lean * 0.75, lean * 0.5)
    add_bar(sk, vec(bar_x, 0.0, bar_z), tilt, grip)
    add_arms(sk, body, vec(-1.0, 0.3, zero))
    return sk
