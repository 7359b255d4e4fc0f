"""The room: wall, floor, platform, rack or bench, painted once for a still camera."""

from collections.abc import Callable
from dataclasses import dataclass

import cv2
import numpy as np

from reviews.drawn.bench import PAD_HEIGHT, PELVIS_X
from reviews.drawn.camera import Camera
from reviews.drawn.looks import GYM, Rgb
from reviews.drawn.signal import Signal
from reviews.drawn.vectors import Floats, unit

Wall = Callable[[float, float, float, float, Rgb], None]
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


def rack(behind: bool) -> list[Box]:
    """Squat stands with hooks, safety arms and feet; behind the lifter or in front."""
    sign = -1.0 if behind else 1.0
    x, colour = sign * 0.95, GYM["rack"]
    boxes = []
    for y in (-0.57, 0.57):
        boxes.append(Box((x - 0.25, y - 0.035, 0.0), (x + 0.25, y + 0.035, 0.05), colour))
        boxes.append(Box((x - 0.035, y - 0.035, 0.0), (x + 0.035, y + 0.035, 2.15), colour))
        hook = sorted((x, x - sign * 0.10))
        boxes.append(Box((hook[0], y - 0.03, 1.30), (hook[1], y + 0.03, 1.33), GYM["steel"]))
    boxes.append(Box((x - 0.03, -0.57, 2.06), (x + 0.03, 0.57, 2.13), colour))
    boxes.append(Box((x - 0.02, -0.57, 0.18), (x + 0.02, 0.57, 0.23), colour))
    return boxes


def bench() -> list[Box]:
    """Bench and its two uprights, all of it behind the lifter as the camera sees them."""
    steel, pad = GYM["rack"], GYM["pad"]
    head, foot = PELVIS_X - 1.08, PELVIS_X + 0.14
    body = [
        Box((head + 0.12, -0.04, 0.05), (head + 0.18, 0.04, PAD_HEIGHT - 0.08), steel),
        Box((foot - 0.2, -0.04, 0.05), (foot - 0.14, 0.04, PAD_HEIGHT - 0.08), steel),
        Box((foot - 0.2, -0.26, 0.0), (foot - 0.14, 0.26, 0.05), steel),
        Box((head + 0.12, -0.6, 0.0), (head + 0.18, 0.6, 0.05), steel),
        Box((head, -0.04, PAD_HEIGHT - 0.12), (foot, 0.04, PAD_HEIGHT - 0.07), steel),
        Box((head, -0.15, PAD_HEIGHT - 0.07), (foot, 0.15, PAD_HEIGHT), pad),
    ]
    uprights = []
    for y in (-0.56, 0.56):
        uprights.append(Box((head + 0.12, y - 0.03, 0.0), (head + 0.18, y + 0.03, 1.05), steel))
        uprights.append(
            Box((head + 0.16, y - 0.03, 0.98), (head + 0.30, y + 0.03, 1.01), GYM["steel"])
        )
    return body + uprights


def _room(canvas: Canvas) -> None:
    camera = canvas.camera
    ahead = unit(-camera.position * np.array([1.0, 1.0, 0.0]))
    side = np.array([ahead[1], -ahead[0], 0.0])
    foot = ahead * 2.4

    def wall(left: float, right: float, low: float, high: float, rgb: Rgb) -> None:
        up = np.array([0.0, 0.0, 1.0])
        canvas.polygon(
            np.array(
                [
                    foot + side * a + up * z
                    for a, z in ((left, low), (right, low), (right, high), (left, high))
                ]
            ),
            rgb,
        )

    wall(-14, 14, 0, 8, GYM["wall"])
    wall(-14, 14, 0, 1.15, GYM["wainscot"])
    wall(-14, 14, 1.15, 1.18, (176, 172, 162))
    wall(-14, 14, 0, 0.10, GYM["skirting"])
    floor = [
        foot + side * 14,
        foot - side * 14,
        foot - side * 14 - ahead * 14,
        foot + side * 14 - ahead * 14,
    ]
    canvas.polygon(np.array(floor), GYM["floor"])
    _furniture(canvas, foot, ahead, side, wall)


def _furniture(canvas: Canvas, foot: Floats, ahead: Floats, side: Floats, wall: Wall) -> None:
    """Wooden boxes, a shelf of discs and a mirror strip along the wall: calm things to track."""
    wall(-3.4, -1.15, 1.35, 2.5, (206, 204, 197))
    wall(-3.38, -1.17, 1.37, 2.48, (222, 220, 213))
    wall(-1.62, -0.92, 0.0, 0.52, (170, 156, 132))
    wall(-1.60, -0.94, 0.02, 0.50, GYM["box"])
    wall(-1.50, -1.04, 0.52, 0.86, (164, 150, 126))
    wall(-1.48, -1.06, 0.54, 0.84, (178, 164, 140))
    wall(1.0, 2.2, 0.78, 0.83, (120, 118, 112))
    up = np.array([0.0, 0.0, 1.0])
    turn = np.linspace(0, 2 * np.pi, 48)
    for across, high, radius, colour in (
        (1.2, 0.225, 0.225, "dark"),
        (1.62, 0.20, 0.2, "blue"),
        (1.95, 0.162, 0.162, "green"),
        (1.25, 0.945, 0.115, "white"),
        (1.55, 0.925, 0.095, "dark"),
    ):
        for share, tone in ((1.0, 0.9), (0.9, 1.05), (0.35, 0.8), (0.2, 1.25)):
            ring = np.outer(np.cos(turn), side) + np.outer(np.sin(turn), up)
            canvas.polygon(
                foot - ahead * 0.02 + side * across + up * high + ring * radius * share,
                np.array(GYM[colour]) * tone,
            )


def _platform(canvas: Canvas, lift: str) -> None:
    def rug(x0: float, x1: float, y0: float, y1: float, rgb: Rgb) -> None:
        canvas.polygon(np.array([[x0, y0, 0], [x1, y0, 0], [x1, y1, 0], [x0, y1, 0.0]]), rgb)

    rug(-1.42, 1.22, -1.27, 1.27, (70, 71, 70))
    rug(-1.4, 1.2, -1.25, 1.25, GYM["rubber"])
    if lift in ("deadlift", "squat", "overhead_press"):
        rug(-1.4, 1.2, -0.6, 0.6, GYM["wood"])
        for y in (-0.3, 0.0, 0.3):
            rug(-1.4, 1.2, y - 0.004, y + 0.004, (152, 131, 105))


def _light(image: Floats, seed: int) -> Floats:
    """A soft pool of light from the upper left, darker corners, and a faint texture."""
    height, width = image.shape[:2]
    y, x = np.mgrid[0:height:8, 0:width:8]
    far = np.hypot((x / width - 0.42) / 0.9, (y / height - 0.36) / 0.95)
    pool = 1.05 - 0.20 * np.clip(far, 0, 1.2) ** 2
    rng = np.random.default_rng([seed, 31])
    mottle = cv2.GaussianBlur(rng.standard_normal(pool.shape).astype(np.float32), (0, 0), 2.0)
    shade = (pool + 0.015 * mottle).astype(np.float32)
    return np.asarray(image * cv2.resize(shade, (width, height))[..., None])


def room_picture(
    camera: Camera,
    size: tuple[int, int],
    spec_lift: str,
    view: str,
    seed: int,
    signal: Signal,
) -> np.ndarray:
    """The still background (height, width, 3) in the clip's signal, uint8."""
    canvas = Canvas(camera, size)
    _room(canvas)
    _platform(canvas, spec_lift)
    boxes = {
        "squat": rack(behind=view != "rear"),
        "overhead_press": rack(behind=view != "rear"),
        "bench_press": bench(),
        "deadlift": [],
    }[spec_lift]
    ordered = sorted(boxes, key=lambda b: -camera.seen((np.array(b.low) + np.array(b.high)) / 2)[2])
    for item in ordered:
        canvas.box(item)
    small = cv2.resize(canvas.image, size, interpolation=cv2.INTER_AREA)
    small = cv2.GaussianBlur(small, (0, 0), max(size) / 1600)
    lit = np.clip(_light(np.asarray(small, dtype=float), seed), 0, 255)
    # Dither: a wall's faint colour lies between two codes, and rounding alone would tint it.
    dither = np.random.default_rng([seed, 37]).uniform(-0.5, 0.5, lit.shape)
    return np.clip((signal.coded(lit) + dither).round(), 0, 255).astype(np.uint8)
