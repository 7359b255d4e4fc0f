"""The room: wall, floor, platform, rack or bench, painted once for a still camera."""

from collections.abc import Callable

import cv2
import numpy as np

from coachdesk.demo.drawing.camera import Camera
from coachdesk.demo.drawing.canvas import Canvas
from coachdesk.demo.drawing.furniture import bench, rack
from coachdesk.demo.drawing.looks import GYM, Rgb
from coachdesk.demo.drawing.signal import Signal
from coachdesk.demo.drawing.vectors import Floats, unit

Wall = Callable[[float, float, float, float, Rgb], None]
TINTS: tuple[Rgb, ...] = ((1.0, 1.0, 1.0), (0.965, 0.98, 0.965), (0.96, 0.97, 0.99))


def _room(canvas: Canvas, place: int) -> None:
    """Wall and floor of one of a few gyms: another tint, things on the other side."""
    tint = np.array(TINTS[place % len(TINTS)])
    mirrored = -1.0 if place // len(TINTS) % 2 else 1.0
    camera = canvas.camera
    ahead = unit(-camera.position * np.array([1.0, 1.0, 0.0]))
    side = np.array([ahead[1], -ahead[0], 0.0]) * mirrored
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
            np.array(rgb) * tint,
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
    place: int,
    signal: Signal,
) -> np.ndarray:
    """The still background (height, width, 3) in the clip's signal, uint8.

    seed fixes the texture, place which gym it is.
    """
    canvas = Canvas(camera, size)
    _room(canvas, place)
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
