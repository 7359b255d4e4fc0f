"""Paints solids into a picture: hulls of projected ellipsoids, far ones first, shaded in bands."""

from dataclasses import dataclass

import cv2
import numpy as np
from numpy.typing import NDArray

from reviews.drawn.camera import Camera
from reviews.drawn.looks import Rgb
from reviews.drawn.signal import Signal
from reviews.drawn.solids import Solid, Solids
from reviews.drawn.vectors import Floats

Image = NDArray[np.uint8]

# Each band is a smaller hull moved towards the light, from the shaded rim to the lit middle.
BANDS = ((1.0, 0.66), (0.88, 0.80), (0.72, 0.92), (0.54, 1.0), (0.34, 1.06))
LIGHT = np.array([-0.42, -0.91])
TOWARDS_LIGHT = 0.55
SHIFT = 4


def _around(sides: int) -> Floats:
    turn = np.linspace(0, 2 * np.pi, sides, endpoint=False)
    return np.stack([np.cos(turn), np.sin(turn)], axis=-1)


SIDES = 16
COARSE, FINE = _around(SIDES), _around(56)
FINE_FROM = 22  # px: larger round things show their corners with few sides


@dataclass(frozen=True)
class Outline:
    """Projected solids: centre (M, 2), rim offsets (M, SIDES, 2), light offset (M, 2), depth (M,).

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

    def outline(self, camera: Camera, index: int) -> Outline:
        """Everything projected at time `index`."""
        return outline_of(camera, self.centres[index], self.axes[index])

    def paint(
        self, image: Image, camera: Camera, index: int, seen: Outline, corner: Floats
    ) -> None:
        """Paint over `image`, whose pixel (0, 0) is `corner` of the whole picture."""
        own = [seen.depth[p.start : p.stop].mean() for p in self.parts]
        depth = [own[i if p.over is None else p.over] - p.nearer for i, p in enumerate(self.parts)]
        # OpenCV puts pixel centres at whole numbers; the camera puts them at halves.
        base = (seen.centre - corner - 0.5)[:, None, :]
        layers = _layers(base, seen.rim, seen.light)
        radius = np.abs(seen.light).sum(-1)
        for order in np.argsort(depth)[::-1]:
            part = self.parts[order]
            if part.facing is not None and not self._turned_to(part, camera, index):
                continue
            mine = slice(part.start, part.stop)
            size = float(radius[mine].max())
            if size < FINE_FROM:
                self._part(image, part, [layer[mine] for layer in layers], size)
            else:
                fine = _rim(seen.flat[mine], FINE)
                self._part(image, part, _layers(base[mine], fine, seen.light[mine]), size)

    def _turned_to(self, part: Solid, camera: Camera, index: int) -> bool:
        assert part.facing is not None
        sight = camera.position - self.centres[index, part.start]
        way = part.facing[index]
        return bool(sight @ way > part.turned * np.linalg.norm(sight) * np.linalg.norm(way))

    def _part(
        self, image: Image, part: Solid, layers: list[NDArray[np.int32]], radius: float
    ) -> None:
        tones = self.tones[part.colour]
        if part.flat or radius < 2.5:
            chosen = [(0, tones[3])]
        elif radius < 7:
            chosen = [(0, tones[1]), (2, tones[3])]
        else:
            chosen = list(enumerate(tones))
        for band, tone in chosen:
            points = layers[band].reshape(-1, 2)
            if part.stop - part.start > 1:
                points = cv2.convexHull(points)
            cv2.fillConvexPoly(image, points, tone, cv2.LINE_AA, SHIFT)


def _layers(base: Floats, rim: Floats, light: Floats) -> list[NDArray[np.int32]]:
    """Fixed-point rim points of each band: smaller and smaller hulls, moved towards the light."""
    scale = 1 << SHIFT
    return [
        ((base + rim * s + (light * ((1 - s) * TOWARDS_LIGHT))[:, None, :]) * scale).astype(
            np.int32
        )
        for s, _ in BANDS
    ]


def _tones(name: str, colours: dict[str, Rgb], signal: Signal) -> list[tuple[float, float, float]]:
    stem, _, kind = name.partition("_")
    base = np.array(colours[stem], dtype=float) * {"edge": 1.22, "deep": 0.8}.get(kind, 1.0)
    return [signal.colour(base * tone) for _, tone in BANDS]
