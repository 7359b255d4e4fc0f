"""Head, hair and a plain face."""

import numpy as np

from coachdesk.demo.drawing.body import Skeleton
from coachdesk.demo.drawing.looks import Look
from coachdesk.demo.drawing.solids import Solids
from coachdesk.demo.drawing.vectors import Floats, unit


def add_head_solids(out: Solids, sk: Skeleton, scale: float, look: Look) -> None:
    """Neck, skull and jaw, hair (cap, back, bun), ears, nose, eyes, brows, mouth, beard."""
    head, gaze = sk["head"], sk["gaze"]
    rise = head - sk["neck"]
    up = unit(rise - gaze * (rise * gaze).sum(-1)[:, None])
    left = np.cross(up, gaze)

    def at(forward: float, side: float, high: float) -> Floats:
        return head + (gaze * forward + left * side + up * high) * scale

    def oval(forward: float, side: float, high: float) -> Floats:
        return np.stack([gaze * forward, left * side, up * high], axis=1) * scale

    out.tube("neck", "skin", sk["neck"], head, [(0.0, 0.060 * scale), (0.62, 0.055 * scale)], 0.0)
    skull = [
        (at(-0.008, 0, 0.028), oval(0.093, 0.074, 0.084)),
        (at(0.045, 0, -0.078), oval(0.036, 0.040, 0.030)),
        (at(0.02, 0, -0.045), oval(0.055, 0.060, 0.045)),
    ]
    bone = out.add("skull", "skin", [c for c, _ in skull], [a for _, a in skull], 0.02)
    cap = [
        (at(-0.016, 0, 0.088), oval(0.086, 0.070, 0.036)),
        (at(-0.050, 0, 0.082), oval(0.060, 0.073, 0.030)),
    ]
    out.add("hair_cap", "hair", [c for c, _ in cap], [a for _, a in cap], 0.021, over=bone)
    for sign in (1.0, -1.0):
        # Seen from its own side and from the front, never through the face.
        out.add(
            "temple",
            "hair",
            [at(-0.020, sign * 0.063, 0.050)],
            [oval(0.062, 0.014, 0.040)],
            0.0212,
            facing=sign * left,
            turned=-0.12,
            over=bone,
        )
    back = [
        (at(-0.046, 0, 0.055), oval(0.064, 0.077, 0.068)),
        (at(-0.060, 0, -0.010), oval(0.042, 0.064, 0.040)),
    ]
    out.add("hair_back", "hair", [c for c, _ in back], [a for _, a in back], 0.03)
    if look.bun:
        out.add("bun", "hair", [at(-0.115, 0, 0.095)], [oval(0.038, 0.040, 0.038)], 0.03)
    if look.beard:
        beard = [
            (at(0.050, 0, -0.082), oval(0.038, 0.042, 0.030)),
            (at(0.02, 0, -0.06), oval(0.05, 0.062, 0.03)),
        ]
        out.add(
            "beard",
            "hair",
            [c for c, _ in beard],
            [a for _, a in beard],
            0.035,
            facing=gaze + 0.3 * up,
        )
    out.add(
        "nose",
        "skin",
        [at(0.092, 0, -0.026)],
        [oval(0.018, 0.014, 0.022)],
        0.07,
        facing=gaze,
    )
    for sign in (1.0, -1.0):
        way = gaze + 0.5 * sign * left
        out.add(
            "ear",
            "skin",
            [at(-0.008, sign * 0.076, -0.005)],
            [oval(0.020, 0.008, 0.030)],
            0.05,
            facing=sign * left + 0.2 * gaze,
        )
        out.add(
            "eye",
            "eye",
            [at(0.080, sign * 0.031, -0.004)],
            [oval(0.006, 0.009, 0.006)],
            0.08,
            facing=way,
            flat=True,
        )
        out.add(
            "brow",
            "brow",
            [at(0.084, sign * 0.032, 0.016)],
            [oval(0.005, 0.015, 0.0035)],
            0.08,
            facing=way,
            flat=True,
        )
    out.add(
        "mouth",
        "lip",
        [at(0.078, 0, -0.062)],
        [oval(0.006, 0.022, 0.005)],
        0.09,
        facing=gaze,
        flat=True,
    )
