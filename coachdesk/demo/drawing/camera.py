"""A pinhole camera in the lifter's room, held by hand.

Pixel (u, v) of a world point X: p = K (R X + t), u = p_x / p_z, v = p_y / p_z; camera axes are x
right, y down, z into the picture, as in every textbook on the pinhole model. No lens distortion.
A hand's shake turns the camera about its own centre, so a shaken frame is an exact homography of
the still one.
"""

from dataclasses import dataclass

import numpy as np

from coachdesk.demo.drawing.vectors import Floats, unit

# Where the camera stands, degrees from the lifter's straight ahead towards their right.
AZIMUTH = {"front": 0.0, "45": 45.0, "side": 90.0, "rear": 180.0}
LENS_HEIGHT = {"squat": 0.75, "deadlift": 0.75, "bench_press": 0.95, "overhead_press": 1.05}
FOCAL_SHARE = 0.92  # of the longer side: a phone's main lens, zoomed in a little

NEAREST = 3.0


@dataclass(frozen=True)
class Camera:
    """Intrinsics (3, 3) in pixels, rotation world to camera (3, 3), position (3,) in metres."""

    intrinsics: Floats
    rotation: Floats
    position: Floats

    def seen(self, points: Floats) -> Floats:
        """World points (..., 3) in camera axes."""
        return np.asarray((points - self.position) @ self.rotation.T)

    def project(self, points: Floats) -> tuple[Floats, Floats]:
        """Pixels (..., 2) and depth in metres (...) of world points (..., 3)."""
        local = self.seen(points)
        depth = np.maximum(local[..., 2], 1e-3)
        pixels = (local[..., :2] / depth[..., None]) * self._focal + self._centre
        return pixels, depth

    @property
    def _focal(self) -> Floats:
        return np.diag(self.intrinsics)[:2]

    @property
    def _centre(self) -> Floats:
        return np.asarray(self.intrinsics[:2, 2])

    def turned(self, turn: Floats) -> "Camera":
        """The same camera turned in the hand by small angles (x, y, z) in radians."""
        return Camera(self.intrinsics, rotation_of(turn) @ self.rotation, self.position)

    def homography_to(self, other: "Camera") -> Floats:
        """Pixels of this camera to pixels of another at the same place, (3, 3)."""
        turn = other.rotation @ self.rotation.T
        return np.asarray(other.intrinsics @ turn @ np.linalg.inv(self.intrinsics))


def rotation_of(turn: Floats) -> Floats:
    """Rotation matrix of a rotation vector (Rodrigues)."""
    angle = float(np.linalg.norm(turn))
    if angle < 1e-12:
        return np.eye(3)
    x, y, z = turn / angle
    skew = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    return np.asarray(np.eye(3) + np.sin(angle) * skew + (1 - np.cos(angle)) * skew @ skew)


def look_at(position: Floats, target: Floats, size: tuple[int, int]) -> Camera:
    """A level camera at `position` that sees `target` in the middle of the picture."""
    width, height = size
    focal = FOCAL_SHARE * max(size)
    forward = unit(target - position)
    right = unit(np.cross(forward, np.array([0.0, 0.0, 1.0])))
    down = np.cross(forward, right)
    matrix = np.array([[focal, 0, width / 2], [0, focal, height / 2], [0, 0, 1.0]])
    return Camera(matrix, np.stack([right, down, forward]), position)


def _fits(camera: Camera, points: Floats, size: tuple[int, int], margin: float) -> bool:
    pixels, _ = camera.project(points)
    share = pixels / np.array(size)
    return bool((share > margin).all() and (share < 1 - margin).all())


def place(view: str, lift: str, size: tuple[int, int], points: Floats, nudge: Floats) -> Camera:
    """Step back until every one of the points (N, 3) is in the picture with some room.

    nudge: how far the person filming is off the ideal: azimuth (degrees) and lens height (m).
    """
    low, high = points.min(0), points.max(0)
    middle = (low + high) / 2
    azimuth = np.radians(AZIMUTH[view] + nudge[0])
    way = np.array([np.cos(azimuth), -np.sin(azimuth), 0.0])
    height = LENS_HEIGHT[lift] + nudge[1]
    for distance in np.arange(NEAREST, 9.0, 0.05):
        position = middle * np.array([1, 1, 0]) + way * distance + np.array([0, 0, height])
        # Aim a little towards lens height: a phone is held nearly level.
        target = middle * np.array([1, 1, 0]) + np.array([0, 0, 0.75 * middle[2] + 0.25 * height])
        camera = look_at(position, target, size)
        if _fits(camera, points, size, 0.06):
            return camera
    raise ValueError("no place in this room from which the whole lift fits the picture")


def hand_shake(seed: int, t: Floats, strength: float) -> Floats:
    """Small turns (T, 3) in radians: slow drift and a tremor of a few hertz, smooth in time."""
    rng = np.random.default_rng([seed, 23])
    turn = np.zeros((len(t), 3))
    for hertz, degrees in ((0.13, 0.22), (0.41, 0.12), (1.3, 0.05), (3.7, 0.02), (7.1, 0.010)):
        phase = rng.uniform(0, 2 * np.pi, 3)
        pace = hertz * rng.uniform(0.8, 1.25, 3)
        turn += np.radians(degrees) * np.sin(2 * np.pi * pace * t[:, None] + phase)
    return np.asarray(turn * strength * np.array([1.0, 1.0, 0.8]))
