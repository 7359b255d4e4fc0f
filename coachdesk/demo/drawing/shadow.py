"""The floor's shadow: tight and dark where a foot or a disc stands, soft under all the rest."""

import cv2
import numpy as np

from coachdesk.demo.drawing.body import Skeleton
from coachdesk.demo.drawing.camera import Camera
from coachdesk.demo.drawing.planes import Planes
from coachdesk.demo.drawing.vectors import Floats

STEP = 4
DARKEST = 150
SPOTS: tuple[tuple[str, float], ...] = (
    ("knee_left", 0.11),
    ("knee_right", 0.11),
    ("pelvis", 0.2),
    ("waist", 0.18),
    ("chest", 0.18),
    ("head", 0.1),
    ("elbow_left", 0.07),
    ("elbow_right", 0.07),
)
FOOT = 0.055  # half a shoe's width, m
CIRCLE = np.linspace(0, 2 * np.pi, 14, endpoint=False)


def cast(planes: Planes, camera: Camera, sk: Skeleton, index: int, disc_radius: float) -> None:
    """Darken the floor below lifter and bar. Without the tight part feet seem to float: a soft
    shadow alone is what something in the air casts."""
    height, width = planes.luma.shape
    shape = (height // STEP + 1, width // STEP + 1)
    metre = camera.intrinsics[0, 0] / 3 / STEP  # pixels of the mask, at the usual distance
    soft = np.zeros(shape, np.uint8)
    for name, radius in SPOTS:
        _darken(soft, camera, [(sk[name][index], radius)], 70)
    ends = [sk["bar"][index] + reach * sk["bar_axis"][index] for reach in (-0.8, 0.8)]
    for end in ends:
        _darken(soft, camera, [(end, 0.14)], 70)
    mask = cv2.GaussianBlur(soft, (0, 0), 0.06 * metre)
    tight = np.zeros(shape, np.uint8)
    for side in ("left", "right"):
        foot = [(sk[f"{end}_{side}"][index], FOOT) for end in ("heel", "toe")]
        _darken(tight, camera, foot, DARKEST)
    for end in ends:
        resting = max(0.0, float(end[2]) - disc_radius)
        _darken(tight, camera, [(end, 0.1)], DARKEST / (1 + 40 * resting), low=resting)
    cv2.add(mask, cv2.GaussianBlur(tight, (0, 0), 0.014 * metre), mask)
    _blend(planes, mask)


def _darken(
    mask: np.ndarray,
    camera: Camera,
    spots: list[tuple[Floats, float]],
    dark: float,
    low: float | None = None,
) -> None:
    """One shadow below some points of the same thing, larger and fainter the higher they are."""
    lowest = min(float(point[2]) for point, _ in spots) if low is None else low
    rings = []
    for point, size in spots:
        radius = size * (1 + 0.5 * lowest)
        rings.append(
            np.stack(
                [
                    point[0] + radius * np.cos(CIRCLE),
                    point[1] + radius * np.sin(CIRCLE),
                    0 * CIRCLE,
                ],
                -1,
            )
        )
    pixels, _ = camera.project(np.concatenate(rings))
    outline = cv2.convexHull((pixels / STEP * 16).round().astype(np.int32))
    layer = np.zeros_like(mask)
    cv2.fillConvexPoly(layer, outline, dark / (1 + 1.3 * lowest), cv2.LINE_8, 4)
    cv2.add(mask, layer, mask)


def _blend(planes: Planes, mask: np.ndarray) -> None:
    if not mask.any():
        return
    x, y, w, h = cv2.boundingRect((mask > 1).astype(np.uint8))
    dark = np.minimum(mask[y : y + h, x : x + w], DARKEST).astype(np.float32) / 255
    for plane, step, black in ((planes.luma, STEP, 16), (planes.chroma, STEP // 2, 128)):
        area = plane[y * step : (y + h) * step, x * step : (x + w) * step]
        part = cv2.resize(dark, (w * step, h * step))[: area.shape[0], : area.shape[1]]
        part = np.ascontiguousarray(part)
        area[:] = cv2.blendLinear(
            np.ascontiguousarray(area), np.full_like(area, black), 1 - part, part
        )
