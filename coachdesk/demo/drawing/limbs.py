"""Spine, head, feet, legs and arms from the few points a lift decides (pelvis, ankles, bar)."""

from dataclasses import dataclass

import numpy as np

from coachdesk.demo.drawing.body import SIDES, SIGN, SPINE_SHARES, Body, Skeleton
from coachdesk.demo.drawing.vectors import Floats, bend, vec


@dataclass(frozen=True)
class Stance:
    """Where the feet stand: half the distance between ankles (m) and toes turned out (radians)."""

    half: float
    toes_out: float
    ankle_x: float | None = None


def towards(angle: Floats | float) -> Floats:
    """Unit vector `angle` radians forward of straight up, in the plane seen from the side."""
    return vec(np.sin(angle), 0.0, np.cos(angle))


def spine_reach(body: Body, angles: tuple[Floats, Floats, Floats]) -> Floats:
    """Pelvis to neck for the three spine segments' angles, shape (T, 3)."""
    parts = zip(SPINE_SHARES, angles, strict=True)
    return np.asarray(sum(body.trunk * share * towards(angle) for share, angle in parts))


def rounded(lean: Floats, rounding: Floats) -> tuple[Floats, Floats, Floats]:
    """Segment angles of a spine that leans and rounds: the pelvis tucks, the chest tips."""
    return lean - rounding, lean, lean + rounding


def add_spine(
    sk: Skeleton, body: Body, pelvis: Floats, angles: tuple[Floats, Floats, Floats], roll: Floats
) -> None:
    """Pelvis, waist, chest, neck, shoulders and hips; roll tilts the shoulder line (radians)."""
    sk["pelvis"] = point = pelvis
    for name, share, angle in zip(("waist", "chest", "neck"), SPINE_SHARES, angles, strict=True):
        sk[name] = point = point + body.trunk * share * towards(angle)
    across = vec(0.0, np.cos(roll), np.sin(roll))
    for side in SIDES:
        sk[f"shoulder_{side}"] = sk["neck"] + SIGN[side] * body.shoulder_half * across
        sk[f"hip_{side}"] = pelvis + vec(0.0, SIGN[side] * body.hip_half, 0.0)


def add_head(sk: Skeleton, body: Body, angle: Floats, gaze: Floats) -> None:
    """Head centre above the neck, and the way the face looks (unit vector, key `gaze`)."""
    sk["head"] = sk["neck"] + 0.112 * body.height * towards(angle)
    sk["gaze"] = towards(gaze + np.pi / 2)


def add_feet(sk: Skeleton, body: Body, stance: Stance, lift: Floats) -> None:
    """Heel, ankle and toe; `lift` turns the foot up about the toe (radians, 0 = planted)."""
    base = -0.25 * body.foot if stance.ankle_x is None else stance.ankle_x
    for side in SIDES:
        way = np.array([np.cos(stance.toes_out), SIGN[side] * np.sin(stance.toes_out), 0.0])
        sole = np.array([base, SIGN[side] * stance.half, 0.0])
        toe = sole + 0.75 * body.foot * way
        up, flat = np.sin(lift)[:, None], np.cos(lift)[:, None]
        high = np.array([0.0, 0.0, 1.0])
        sk[f"toe_{side}"] = np.broadcast_to(toe, (len(lift), 3)) + 0.0
        heel = body.foot * (high * up - way * flat)
        ankle = 0.75 * body.foot * (high * up - way * flat) + body.ankle * (high * flat + way * up)
        sk[f"heel_{side}"] = toe + heel
        sk[f"ankle_{side}"] = toe + ankle


def add_legs(sk: Skeleton, body: Body, knees_out: Floats) -> None:
    """Knees between hips and ankles, pointing `knees_out` radians away from straight ahead."""
    for side in SIDES:
        pole = vec(np.cos(knees_out), SIGN[side] * np.sin(knees_out), 0.25)
        sk[f"knee_{side}"] = bend(
            sk[f"hip_{side}"], sk[f"ankle_{side}"], body.thigh, body.shank, pole
        )


def add_bar(sk: Skeleton, centre: Floats, tilt: Floats, grip: float) -> None:
    """Bar centre, its axis towards the lifter's left, and the hands; tilt > 0 lifts the left."""
    sk["bar"] = centre
    sk["bar_axis"] = vec(0.0, np.cos(tilt), np.sin(tilt))
    for side in SIDES:
        sk[f"hand_{side}"] = centre + SIGN[side] * grip * sk["bar_axis"]


def add_arms(sk: Skeleton, body: Body, pole: Floats) -> None:
    """Elbows between shoulders and hands; `pole` is for the left arm, mirrored for the right."""
    for side in SIDES:
        way = pole * np.array([1.0, SIGN[side], 1.0])
        sk[f"elbow_{side}"] = bend(
            sk[f"shoulder_{side}"], sk[f"hand_{side}"], body.upper_arm, body.forearm, way
        )


def add_pressing_arms(sk: Skeleton, body: Body, ahead: Floats) -> None:
    """Elbows as nearly under the hands as the arms allow, moved `ahead` metres forward."""
    for side in SIDES:
        shoulder, hand = sk[f"shoulder_{side}"], sk[f"hand_{side}"]
        under = hand + vec(ahead, SIGN[side] * 0.05, -body.forearm)
        sk[f"elbow_{side}"] = bend(shoulder, hand, body.upper_arm, body.forearm, under - shoulder)


def leg_room(
    sk: Skeleton, body: Body, hip_x: Floats, reach: Floats, y: Floats | float = 0.0
) -> Floats:
    """How high the pelvis can be over x = hip_x with hip to ankle at most `reach` on both sides."""
    rooms = []
    for side in SIDES:
        ankle = sk[f"ankle_{side}"]
        dx = hip_x - ankle[:, 0]
        dy = y + SIGN[side] * body.hip_half - ankle[:, 1]
        rooms.append(ankle[:, 2] + np.sqrt(np.maximum(reach**2 - dx**2 - dy**2, 1e-6)))
    return np.minimum(*rooms)
