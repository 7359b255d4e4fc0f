"""The squat: bar on the back, over mid-foot, hips back and down."""

import numpy as np

from coachdesk.demo.drawing.body import SIDES, Body, Skeleton
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
    towards,
)
from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.timing import Samples
from coachdesk.demo.drawing.vectors import Floats, hump, vec

STANCE = Stance(half=0.21, toes_out=np.radians(26))
# Lean at the top and at the bottom, then where the bar lies: how far below the neck along the
# back, how far behind the spine, half the grip. Coaching practice, from memory.
VARIANTS = {
    "low_bar": (np.radians(13), np.radians(47), 0.075, 0.105, 0.42),
    "high_bar": (np.radians(8), np.radians(33), -0.005, 0.088, 0.36),
}


def _lean(kind: str, s: Samples, height: Floats) -> Floats:
    top, low = VARIANTS[kind][:2]
    lean = top + (low - top) * np.clip(1 - height, 0, 1) ** 0.8
    tip = s.fault("hips_rise_first") * s.up * hump(height, 0.0, 0.85)
    return np.asarray(lean + np.radians(24) * tip + 1.5 * s.sway)


def _bar_from_pelvis(body: Body, kind: str, lean: Floats, rounding: Floats) -> Floats:
    drop, back = VARIANTS[kind][2:4]
    angles = rounded(lean, rounding)
    top = angles[2]
    behind = vec(-np.cos(top), 0.0, np.sin(top))
    return np.asarray(spine_reach(body, angles) - drop * towards(top) + back * behind)


def _knee_height(sk: Skeleton, body: Body, pelvis: Floats, out: Floats) -> Floats:
    trial = dict(sk)
    for side, sign in zip(SIDES, (1, -1), strict=True):
        trial[f"hip_{side}"] = pelvis + vec(0.0, sign * body.hip_half, 0.0)
    add_legs(trial, body, out)
    return trial["knee_left"][:, 2]


def _bottom(sk: Skeleton, body: Body, hip_x: Floats, out: Floats, depth: Floats) -> Floats:
    """Pelvis height at which the hip joint is `depth` metres below the knee joint (bisection)."""
    low, high = np.full_like(hip_x, 0.15), np.full_like(hip_x, 0.75)
    for _ in range(26):
        middle = (low + high) / 2
        above = middle - _knee_height(sk, body, vec(hip_x, 0.0, middle), out) > -depth
        low, high = np.where(above, low, middle), np.where(above, middle, high)
    return (low + high) / 2


def pose(spec: ClipSpec, body: Body, s: Samples) -> Skeleton:
    """All joints and the bar at the sample times."""
    sk: Skeleton = {}
    kind = spec.kind
    deep = np.clip(1 - s.height, 0, 1.1)
    add_feet(sk, body, STANCE, np.radians(16) * s.fault("heels_lift") * deep**2)
    out = STANCE.toes_out - np.radians(46) * s.fault("knees_in") * s.up * hump(s.height, 0.0, 0.9)
    still = np.full_like(s.t, STANCE.toes_out)
    rounding = np.radians(3) * deep + np.radians(24) * s.fault("back_rounds") * deep**1.3
    bar_x = s.sway + 0.085 * s.fault("bar_drifts_forward") * hump(s.height, -0.6, 1.0)
    lean = _lean(kind, s, s.height)
    reach = _bar_from_pelvis(body, kind, lean, rounding)
    hip_x = bar_x - reach[:, 0]
    low_lean = _lean(kind, s, np.zeros_like(s.t))
    low_x = bar_x - _bar_from_pelvis(body, kind, low_lean, rounding)[:, 0]
    bottom = _bottom(sk, body, low_x, still, 0.045 - 0.17 * s.fault("depth_short"))
    soft = 1 - 0.024 * s.fault("soft_lockout")
    shift = -0.09 * s.fault("weight_shift") * s.up * hump(s.height, 0.0, 1.0)
    room = leg_room(sk, body, hip_x, body.leg * soft, shift)
    early = 0.16 * s.fault("hips_rise_first") * s.up * hump(s.height, 0.0, 0.9)
    top = leg_room(
        sk,
        body,
        bar_x - _bar_from_pelvis(body, kind, _lean(kind, s, np.ones_like(s.t)), 0 * rounding)[:, 0],
        body.leg * soft,
    )
    pelvis_z = np.minimum(bottom + (top - bottom) * (s.height + early), room)
    pelvis = vec(hip_x, shift, pelvis_z)
    roll = np.radians(2.5) * s.fault("weight_shift") * s.up * hump(s.height, 0.0, 1.0)
    add_spine(sk, body, pelvis, rounded(lean, rounding), roll)
    add_legs(sk, body, out)
    add_head(sk, body, lean * 0.55, lean * 0.35)
    add_bar(sk, pelvis + reach, roll, VARIANTS[kind][4])
    add_arms(sk, body, vec(-0.45 - 0.5 * np.sin(lean), 0.2, -1.0))
    return sk
