"""The lifter as solids: trunk, limbs, clothes and shoes around the skeleton.

Widths and thicknesses in metres for a body of 1.75 m, from memory of ordinary adults; they scale
with height.
"""

import numpy as np

from coachdesk.demo.drawing.body import SIDES, Body, Skeleton
from coachdesk.demo.drawing.head import add_head_solids
from coachdesk.demo.drawing.looks import Look
from coachdesk.demo.drawing.solids import Solids
from coachdesk.demo.drawing.vectors import Floats, unit, vec

THIGH = [(-0.02, 0.086), (0.15, 0.091), (0.45, 0.079), (0.8, 0.061), (1.0, 0.055)]
THIGH_CLOTH = [(-0.06, 0.090), (0.12, 0.098), (0.45, 0.087), (0.62, 0.078)]
THIGH_TIGHTS = [(-0.06, 0.089), (0.15, 0.094), (0.45, 0.082), (0.8, 0.063), (1.0, 0.056)]
SHANK = [(0.0, 0.054), (0.22, 0.058), (0.42, 0.054), (0.75, 0.038), (1.0, 0.034)]
SOCK = [(0.72, 0.040), (0.98, 0.037)]
UPPER_ARM = [(0.0, 0.058), (0.3, 0.053), (0.6, 0.048), (1.0, 0.041)]
SLEEVE = [(-0.02, 0.062), (0.15, 0.061), (0.35, 0.057), (0.52, 0.056)]
FOREARM = [(0.0, 0.041), (0.25, 0.044), (0.55, 0.037), (0.86, 0.028)]


def _section(along: Floats, wide: float, deep: float, lateral: Floats) -> Floats:
    """Semi-axes (T, 3, 3) of a flat oval cross-section of the trunk."""
    forward = np.cross(lateral, along)
    return np.stack([lateral * wide, forward * deep, along * 0.035], axis=1)


def _trunk(out: Solids, sk: Skeleton, scale: float, look: Look) -> None:
    across = unit(sk["shoulder_left"] - sk["shoulder_right"])
    level = vec(0.0, np.ones(out.times), 0.0)
    low = unit(sk["waist"] - sk["pelvis"])
    mid = unit(sk["chest"] - sk["waist"])
    top = unit(sk["neck"] - sk["chest"])

    def ring(
        point: Floats, along: Floats, wide: float, deep: float, lateral: Floats
    ) -> tuple[Floats, Floats]:
        return point, _section(along, wide * scale, deep * scale, lateral)

    pelvis, waist, chest, neck = sk["pelvis"], sk["waist"], sk["chest"], sk["neck"]
    hips = [
        ring(pelvis - low * 0.07 * scale, low, 0.125, 0.095, level),
        ring(pelvis, low, 0.162, 0.115, level),
        ring(pelvis + (waist - pelvis) * 0.62, low, 0.146, 0.106, level),
    ]
    belly = [
        ring(pelvis + (waist - pelvis) * 0.55, low, 0.145, 0.106, level),
        ring(waist, mid, 0.142, 0.104, across),
        ring(waist + (chest - waist) * 0.7, mid, 0.156, 0.112, across),
    ]
    ribs = [
        ring(waist + (chest - waist) * 0.5, mid, 0.150, 0.110, across),
        ring(chest, top, 0.166, 0.120, across),
        ring(chest + (neck - chest) * 0.5, top, 0.172, 0.116, across),
        ring(chest + (neck - chest) * 0.85, top, 0.150, 0.092, across),
        ring(neck + top * 0.012, top, 0.105, 0.066, across),
    ]
    out.add("hips", "shorts", [c for c, _ in hips], [a for _, a in hips])
    chest_part = out.add("ribs", "shirt", [c for c, _ in ribs], [a for _, a in ribs])
    shirt = out.add("belly", "shirt", [c for c, _ in belly], [a for _, a in belly], 0.01)
    for side in SIDES:
        root = sk["neck"] + 0.16 * (sk["head"] - sk["neck"])
        slope = [(0.0, 0.058 * scale), (0.5, 0.054 * scale), (1.0, 0.052 * scale)]
        # Behind the ribs from every side, or one shoulder would lie on them and one under.
        out.tube(
            f"trap_{side}", "shirt", root, sk[f"shoulder_{side}"], slope, -0.001, over=chest_part
        )
    if look.belt:
        worn = [
            ring(pelvis + (waist - pelvis) * share, low, 0.151, 0.113, level)
            for share in (0.55, 1.0)
        ]
        out.add("belt", "belt", [c for c, _ in worn], [a for _, a in worn], 0.035, over=shirt)
        front = np.cross(level, low)
        buckle = pelvis + (waist - pelvis) * 0.78 + front * 0.128 * scale
        axes = np.stack([level * 0.03, front * 0.008, low * 0.03], axis=1) * scale
        out.add("buckle", "buckle", [buckle], [axes], 0.036, facing=front, over=shirt)


def _arm(out: Solids, sk: Skeleton, side: str, scale: float) -> None:
    shoulder, elbow, hand = (sk[f"{j}_{side}"] for j in ("shoulder", "elbow", "hand"))

    def sized(profile: list[tuple[float, float]]) -> list[tuple[float, float]]:
        return [(share, radius * scale) for share, radius in profile]

    arm = out.tube(f"upper_arm_{side}", "skin", shoulder, elbow, sized(UPPER_ARM))
    out.tube(f"sleeve_{side}", "shirt", shoulder, elbow, sized(SLEEVE), 0.001, over=arm)
    out.tube(f"forearm_{side}", "skin", elbow, hand, sized(FOREARM), 0.01)
    along = unit(hand - elbow)
    bar = sk["bar_axis"]
    thick = unit(np.cross(along, bar))
    fist = np.stack([bar * 0.047, along * 0.042, thick * 0.036], axis=1) * scale
    out.add(f"fist_{side}", "skin", [hand + along * 0.006], [fist], 0.05)


def _leg(out: Solids, sk: Skeleton, side: str, scale: float, look: Look) -> None:
    hip, knee, ankle = (sk[f"{j}_{side}"] for j in ("hip", "knee", "ankle"))

    def sized(profile: list[tuple[float, float]]) -> list[tuple[float, float]]:
        return [(share, radius * scale) for share, radius in profile]

    cloth = THIGH_TIGHTS if look.tights else THIGH_CLOTH
    thigh = out.tube(f"thigh_{side}", "skin", hip, knee, sized(THIGH))
    out.tube(f"thigh_cloth_{side}", "shorts", hip, knee, sized(cloth), 0.001, over=thigh)
    shank = out.tube(f"shank_{side}", "skin", knee, ankle, sized(SHANK), 0.0)
    out.tube(f"sock_{side}", "sock", knee, ankle, sized(SOCK), 0.001, over=shank)
    _shoe(out, sk, side, scale)


def _shoe(out: Solids, sk: Skeleton, side: str, scale: float) -> None:
    heel, toe, ankle = (sk[f"{j}_{side}"] for j in ("heel", "toe", "ankle"))
    way = unit(toe - heel)
    up = unit(ankle - heel - way * ((ankle - heel) * way).sum(-1)[:, None])
    across = np.cross(up, way)

    def oval(along: float, wide: float, high: float) -> Floats:
        return np.stack([way * along, across * wide, up * high], axis=1) * scale

    length = toe - heel
    upper = [
        (heel + length * 0.10 + up * 0.045 * scale, oval(0.035, 0.034, 0.036)),
        (heel + length * 0.30 + up * 0.060 * scale, oval(0.040, 0.036, 0.034)),
        (heel + length * 0.62 + up * 0.038 * scale, oval(0.040, 0.044, 0.026)),
        (heel + length * 0.92 + up * 0.030 * scale, oval(0.034, 0.038, 0.020)),
    ]
    sole = [
        (heel + length * 0.08 + up * 0.014 * scale, oval(0.035, 0.036, 0.013)),
        (heel + length * 0.66 + up * 0.014 * scale, oval(0.050, 0.048, 0.013)),
        (heel + length * 0.94 + up * 0.014 * scale, oval(0.036, 0.040, 0.012)),
    ]
    out.add(f"sole_{side}", "sole", [c for c, _ in sole], [a for _, a in sole], -0.01)
    out.add(f"shoe_{side}", "shoe", [c for c, _ in upper], [a for _, a in upper], 0.02)


def figure_of(body: Body, look: Look, sk: Skeleton) -> Solids:
    """Every solid of the lifter at the skeleton's times."""
    out = Solids(times=len(sk["pelvis"]))
    scale = body.height / 1.75
    _trunk(out, sk, scale, look)
    for side in SIDES:
        _leg(out, sk, side, scale, look)
        _arm(out, sk, side, scale)
    add_head_solids(out, sk, scale, look)
    return out
