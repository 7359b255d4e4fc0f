"""Paints solids into a picture: hulls of projected ellipsoids, far ones first, shaded in bands."""

from dataclasses import dataclass
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from coachdesk.demo.drawing.camera import Camera
from coachdesk.demo.drawing.looks import Rgb
from coachdesk.demo.drawing.signal import Signal
from coachdesk.demo.drawing.solids import Solid, Solids
from coachdesk.demo.drawing.vectors import Floats, unit

Image = NDArray[Any]  # uint8 (height, width, 3); OpenCV's stubs name no type

# Each band is a smaller hull moved towards the light, from the shaded rim to the lit middle.
BANDS = ((1.0, 0.72), (0.90, 0.83), (0.75, 0.92), (0.56, 1.0), (0.35, 1.06))
LIGHT = np.array([-0.42, -0.91])
TOWARDS_LIGHT = 0.55
SHIFT = 4


def _around(sides: int) -> Floats:
    turn = np.linspace(0, 2 * np.pi, sides, endpoint=False)
    return np.stack([np.cos(turn), np.sin(turn)], axis=-1)


SHARES = np.array([share for share, _ in BANDS])[:, None, None, None]
OFFSETS = (1 - SHARES) * TOWARDS_LIGHT
COARSE, FINE = _around(20), _around(56)
FINE_FROM = 50  # px: larger round things show their corners with few sides


@dataclass(frozen=True)
class Outline:
    """Projected solids: centre (M, 2), rim offsets (M, N, 2), light offset (M, 2), depth (M,).

    flat (M, 3, 2) are the projected semi-axes, from which a finer rim can be had.
    """

    centre: Floats
    rim: Floats
    light: Floats
    depth: Floats
    flat: Floats


def outline_of(camera: Camera, centres: Floats, axes: Floats) -> Outline:
    """Silhouettes of ellipsoids: for direction n the rim lies at B B^T n / |B^T n|.

    B (2, 3) maps semi-axes to pixels at the ellipsoid's own depth (exact for small bodies).
    """
    local = camera.seen(centres)
    depth = np.maximum(local[:, 2], 0.05)
    slope = local[:, :2] / depth[:, None]
    focal = camera.intrinsics[0, 0]
    centre = slope * focal + camera.intrinsics[:2, 2]
    turned = axes @ camera.rotation.T
    flat = (turned[:, :, :2] - turned[:, :, 2:] * slope[:, None, :]) * (focal / depth)[
        :, None, None
    ]
    points = _rim(flat, np.vstack([COARSE, LIGHT]))
    return Outline(centre, points[:, :-1], points[:, -1], depth, flat)


def _rim(flat: Floats, ways: Floats) -> Floats:
    spread = flat @ ways.T
    size = np.maximum(np.sqrt((spread**2).sum(1)), 1e-9)
    return np.asarray(np.matmul(spread.transpose(0, 2, 1), flat) / size[:, :, None])


class Painter:
    """Paints one clip's solids; colours are turned into the clip's signal once."""

    def __init__(self, solids: Solids, colours: dict[str, Rgb], signal: Signal) -> None:
        self.parts = solids.parts
        self.centres, self.axes = solids.arrays()
        names = {part.colour for part in self.parts}
        self.tones = {name: _tones(name, colours, signal) for name in names}
        self.starts = np.array([part.start for part in self.parts])
        self.counts = np.array([part.stop - part.start for part in self.parts])
        self.sorts_as = np.array(
            [i if p.over is None else p.over for i, p in enumerate(self.parts)]
        )
        self.nearer = np.array([part.nearer for part in self.parts])
        self.turned = np.array([p.turned if p.facing is not None else -2.0 for p in self.parts])
        shape = (len(self.centres), 3)
        self.facing = np.stack([_or_zero(part.facing, shape) for part in self.parts], axis=1)
        self.along = np.stack([_or_zero(part.along, shape) for part in self.parts], axis=1)

    def outline(self, camera: Camera, index: int) -> Outline:
        """Everything projected at time `index`."""
        return outline_of(camera, self.centres[index], self.axes[index])

    def _order(self, camera: Camera, index: int, depth: Floats) -> list[int]:
        """Parts that can be seen, far ones first."""
        own = np.add.reduceat(depth, self.starts) / self.counts
        sight = unit(camera.position - self.centres[index, self.starts])
        sign = np.where((sight * self.along[index]).sum(-1) < 0, -1.0, 1.0)
        key = own[self.sorts_as] - self.nearer * sign
        seen = (sight * self.facing[index]).sum(-1) > self.turned
        return [int(i) for i in np.argsort(-key) if seen[i]]

    def paint(
        self, image: Image, camera: Camera, index: int, seen: Outline, corner: Floats
    ) -> None:
        """Paint over `image`, whose pixel (0, 0) is `corner` of the whole picture."""
        # OpenCV puts pixel centres at whole numbers; the camera puts them at halves.
        base = (seen.centre - corner - 0.5)[:, None, :]
        coarse = _layers(base, seen.rim, seen.light)
        radius = np.maximum.reduceat(np.abs(seen.light).sum(-1), self.starts)
        for order in self._order(camera, index, seen.depth):
            part, size = self.parts[order], radius[order]
            mine = slice(part.start, part.stop)
            layers = np.ascontiguousarray(coarse[:, mine])
            if size >= FINE_FROM:
                layers = _layers(base[mine], _rim(seen.flat[mine], FINE), seen.light[mine])
            layers = layers.reshape(len(BANDS), -1, 2)
            if part.stop - part.start > 1:
                layers = layers.take(cv2.convexHull(layers[0], returnPoints=False)[:, 0], axis=1)
            for band, tone in self._bands(part, size):
                # Only the outline needs smoothing: inside, neighbouring tones are close.
                kind = cv2.LINE_8 if band else cv2.LINE_AA
                cv2.fillConvexPoly(image, layers[band], tone, kind, SHIFT)

    def _bands(self, part: Solid, radius: float) -> list[tuple[int, tuple[float, float, float]]]:
        """Which bands to paint: small parts need few."""
        tones = self.tones[part.colour]
        if part.flat or radius < 2.5:
            return [(0, tones[3])]
        if radius < 7:
            return [(0, tones[1]), (2, tones[3])]
        if radius < 16:
            return [(0, tones[0]), (1, tones[1]), (2, tones[2]), (3, tones[3])]
        return list(enumerate(tones))


def _or_zero(ways: Floats | None, shape: tuple[int, int]) -> Floats:
    return np.zeros(shape) if ways is None else unit(np.broadcast_to(ways, shape))


def _layers(base: Floats, rim: Floats, light: Floats) -> Image:
    """Fixed-point rim points of each band (B, M, N, 2): smaller hulls, moved towards the light."""
    moved = base + light[:, None, :] * OFFSETS + rim * SHARES
    return np.asarray((moved * (1 << SHIFT)).astype(np.int32))


def _tones(name: str, colours: dict[str, Rgb], signal: Signal) -> list[tuple[float, float, float]]:
    stem, _, kind = name.partition("_")
    base = np.array(colours[stem], dtype=float) * {"edge": 1.22, "deep": 0.8}.get(kind, 1.0)
    return [signal.colour(base * tone) for _, tone in BANDS]
