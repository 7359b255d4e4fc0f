"""The soft shadow on the floor under lifter and bar."""

import cv2
import numpy as np

from reviews.drawn.body import Skeleton
from reviews.drawn.camera import Camera
from reviews.drawn.planes import Planes

STEP = 8
SPOTS: tuple[tuple[str, float], ...] = (
    ("toe_left", 0.08),
    ("toe_right", 0.08),
    ("heel_left", 0.08),
    ("heel_right", 0.08),
    ("knee_left", 0.11),
    ("knee_right", 0.11),
    ("pelvis", 0.2),
    ("waist", 0.18),
    ("chest", 0.18),
    ("head", 0.1),
    ("elbow_left", 0.07),
    ("elbow_right", 0.07),
)
CIRCLE = np.linspace(0, 2 * np.pi, 14, endpoint=False)


def cast(planes: Planes, camera: Camera, sk: Skeleton, index: int) -> None:
    """Darken the floor below each joint: darker and tighter the nearer it is to the floor."""
    height, width = planes.luma.shape
    mask = np.zeros((height // STEP + 1, width // STEP + 1), np.uint8)
    spots = [(sk[name][index], size) for name, size in SPOTS]
    for reach in (-0.8, 0.8):
        spots.append((sk["bar"][index] + reach * sk["bar_axis"][index], 0.14))
    for point, size in spots:
        radius = size * (1 + 0.5 * point[2])
        ring = np.stack(
            [point[0] + radius * np.cos(CIRCLE), point[1] + radius * np.sin(CIRCLE), 0 * CIRCLE], -1
        )
        pixels, _ = camera.project(ring)
        layer = np.zeros_like(mask)
        cv2.fillConvexPoly(
            layer,
            (pixels / STEP * 16).round().astype(np.int32),
            90 / (1 + 1.3 * point[2]),
            cv2.LINE_8,
            4,
        )
        cv2.add(mask, layer, mask)
    mask = cv2.GaussianBlur(mask, (0, 0), 0.03 * camera.intrinsics[0, 0] / 3 / STEP * 2)
    if not mask.any():
        return
    x, y, w, h = cv2.boundingRect((mask > 1).astype(np.uint8))
    dark = np.minimum(mask[y : y + h, x : x + w], 115).astype(np.float32) / 255
    for plane, step, black in ((planes.luma, STEP, 16), (planes.chroma, STEP // 2, 128)):
        area = plane[y * step : (y + h) * step, x * step : (x + w) * step]
        part = cv2.resize(dark, (w * step, h * step))[: area.shape[0], : area.shape[1]]
        part = np.ascontiguousarray(part)
        area[:] = cv2.blendLinear(
            np.ascontiguousarray(area), np.full_like(area, black), 1 - part, part
        )
