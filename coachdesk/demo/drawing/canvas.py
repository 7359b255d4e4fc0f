"""Flat colours on world polygons and boxes, seen by the clip's camera: what rooms are made of."""

from dataclasses import dataclass

import cv2
import numpy as np

from coachdesk.demo.drawing.camera import Camera
from coachdesk.demo.drawing.looks import Rgb
from coachdesk.demo.drawing.vectors import Floats

OVER = 2  # painted at twice the size, then averaged down: that is its antialiasing


@dataclass(frozen=True)
class Box:
    """An upright box in the lifter's axes: opposite corners (metres) and colour."""

    low: tuple[float, float, float]
    high: tuple[float, float, float]
    rgb: Rgb


class Canvas:
    """An sRGB picture of the room at OVER times the size of the camera's."""

    def __init__(self, camera: Camera, size: tuple[int, int]) -> None:
        self.camera = camera
        self.size = size
        self.image = np.zeros((size[1] * OVER, size[0] * OVER, 3), np.float32)

    def polygon(self, points: Floats, rgb: Rgb | Floats) -> None:
        """Fill a flat polygon of world points, cut off a hand's width in front of the lens."""
        kept = _in_front(self.camera, np.asarray(points, dtype=float))
        if len(kept) < 3:
            return
        pixels, _ = self.camera.project(kept)
        fixed = np.clip((pixels * OVER - 0.5) * 16, -8e6, 8e6).round().astype(np.int32)
        cv2.fillPoly(self.image, [fixed], tuple(float(c) for c in rgb), cv2.LINE_8, 4)

    def box(self, box: Box) -> None:
        """The faces of a box that are turned to the camera, lit from above."""
        low, high = np.array(box.low), np.array(box.high)
        for axis in range(3):
            for end, sign in ((low, -1.0), (high, 1.0)):
                if (self.camera.position[axis] - end[axis]) * sign <= 0:
                    continue
                others = [a for a in range(3) if a != axis]
                corners = np.zeros((4, 3))
                corners[:, axis] = end[axis]
                corners[:, others[0]] = [
                    low[others[0]],
                    high[others[0]],
                    high[others[0]],
                    low[others[0]],
                ]
                corners[:, others[1]] = [
                    low[others[1]],
                    low[others[1]],
                    high[others[1]],
                    high[others[1]],
                ]
                tone = {2: 1.12 if sign > 0 else 0.55, 0: 0.86, 1: 0.74}[axis]
                self.polygon(corners, np.array(box.rgb) * tone)


def _in_front(camera: Camera, points: Floats) -> Floats:
    """Clip a polygon at 0.1 m in front of the camera (Sutherland and Hodgman)."""
    depth = camera.seen(points)[:, 2] - 0.1
    kept = []
    for i, point in enumerate(points):
        j = (i + 1) % len(points)
        if depth[i] >= 0:
            kept.append(point)
        if depth[i] * depth[j] < 0:
            share = depth[i] / (depth[i] - depth[j])
            kept.append(point + (points[j] - point) * share)
    return np.array(kept)
