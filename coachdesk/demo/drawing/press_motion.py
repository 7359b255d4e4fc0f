"""The overhead press: bar from the front of the shoulders to over the head, standing."""

import numpy as np

from coachdesk.demo.drawing.body import Body, Skeleton
from coachdesk.demo.drawing.limbs import (
    Stance,
    add_bar,
    add_feet,
    add_head,
    add_legs,
    add_pressing_arms,
    add_spine,
    leg_room,
    rounded,
    spine_reach,
)
from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.timing import Samples
from coachdesk.demo.drawing.vectors import hump, vec

STANCE = Stance(half=0.15, toes_out=np.radians(14))
GRIP = 0.25


def pose(spec: ClipSpec, body: Body, s: Samples) -> Skeleton:
    """All joints and the bar at the sample times."""
    sk: Skeleton = {}
    h = np.clip(s.height, 0, 1)
    zero = np.zeros_like(h)
    add_feet(sk, body, STANCE, zero)
    arch = hump(h, -0.4, 1.1)
    lean = -np.radians(3) * arch - np.radians(15) * s.fault("leans_back") * arch
    rounding = 0.35 * lean
    angles = rounded(lean, rounding)
    hip_x = -0.04 - 0.45 * spine_reach(body, angles)[:, 0] + s.sway
    dip = 0.09 * s.fault("knees_dip") * s.up * hump(np.sqrt(h), 0.0, 0.8)
    pelvis_z = leg_room(sk, body, hip_x, np.full_like(h, body.leg)) - dip
    add_spine(sk, body, vec(hip_x, 0.0, pelvis_z), angles, zero)
    add_legs(sk, body, zero + STANCE.toes_out)
    neck = sk["neck"]
    reach = body.arm * (1 - 0.07 * s.fault("soft_lockout") - 0.015 * s.fault("uneven_press"))
    drift = 0.13 * s.fault("bar_drifts_forward") * hump(h, 0.0, 1.5)
    start_x, start_z = neck[:, 0] + 0.125, neck[:, 2] + 0.03
    top_x = -0.01 + zero
    across = GRIP - body.shoulder_half
    bar_x = start_x + (top_x - start_x) * np.clip((h - 0.35) / 0.65, 0, 1) ** 1.3 + drift
    room = np.sqrt(np.maximum(reach**2 - across**2 - (bar_x - neck[:, 0]) ** 2, 0.01))
    bar_z = np.minimum(start_z + (neck[:, 2] + room - start_z) * h, neck[:, 2] + room)
    tilt = -np.radians(7) * s.fault("uneven_press") * s.up * hump(h, 0.05, 0.98)
    add_bar(sk, vec(bar_x, 0.0, bar_z - 0.3 * GRIP * np.abs(np.sin(tilt))), tilt, GRIP)
    add_pressing_arms(sk, body, 0.02 - 0.28 * s.fault("elbows_behind") * (1 - h))
    aside = 0.9 * hump(h, 0.0, 0.8)
    add_head(sk, body, lean - 0.16 * aside, -0.10 - 0.2 * aside)
    return sk
