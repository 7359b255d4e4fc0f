"""Bar, discs and collars as solids along the bar's axis."""

import numpy as np

from reviews.drawn.body import Skeleton
from reviews.drawn.plates import (
    COLLAR_WIDTH,
    SHAFT_RADIUS,
    SLEEVE_END,
    SLEEVE_RADIUS,
    SLEEVE_START,
    Plate,
)
from reviews.drawn.solids import Solids
from reviews.drawn.vectors import Floats, unit

SHAFT_CUTS = (-0.655, -0.5, -0.36, -0.24, -0.1, 0.1, 0.24, 0.36, 0.5, 0.655)


def add_barbell(out: Solids, sk: Skeleton, plates: tuple[Plate, ...]) -> None:
    """The bar in short pieces (so that each sorts by its own depth), then each sleeve's load."""
    centre, axis = sk["bar"], sk["bar_axis"]
    for a, b in zip(SHAFT_CUTS, SHAFT_CUTS[1:], strict=False):
        out.tube(
            "shaft",
            "chrome",
            centre + axis * a,
            centre + axis * b,
            [(0, SHAFT_RADIUS), (1, SHAFT_RADIUS)],
        )
    for sign in (1.0, -1.0):
        way = axis * sign
        _sleeve(out, centre, way, plates)


def _sleeve(out: Solids, centre: Floats, way: Floats, plates: tuple[Plate, ...]) -> None:
    at = SLEEVE_START
    _drum(out, "collar", "steel", centre, way, at - 0.012, at, 0.035)
    for plate in plates:
        _drum(
            out,
            "plate",
            plate.colour,
            centre,
            way,
            at + 0.001,
            at + plate.thickness - 0.001,
            plate.radius,
        )
        at += plate.thickness
    _drum(out, "clip", "dark", centre, way, at, at + COLLAR_WIDTH, 0.038)
    _drum(out, "sleeve", "chrome", centre, way, at + COLLAR_WIDTH, SLEEVE_END, SLEEVE_RADIUS)


def _disc_axes(way: Floats, radius: float) -> Floats:
    first = unit(np.cross(way, np.array([1.0, 0.0, 0.0])))
    second = np.cross(way, first)
    return np.stack([first * radius, second * radius, way * 0.0005], axis=1)


def _drum(
    out: Solids,
    name: str,
    colour: str,
    centre: Floats,
    way: Floats,
    near: float,
    far: float,
    radius: float,
) -> None:
    """A short cylinder: its wall, then rim, recess and hub of whichever face is seen."""
    ends = [centre + way * near, centre + way * far]
    out.add(name, colour, ends, [_disc_axes(way, radius)] * 2)
    for end, facing in ((ends[0], -way), (ends[1], way)):
        shells = [(1.0, f"{colour}_edge"), (0.93, colour)]
        if name == "plate":
            shells += [
                (0.62, f"{colour}_edge"),
                (0.59, f"{colour}_deep"),
                (0.30, f"{colour}_edge"),
                (0.27, "steel"),
            ]
        for step, (share, shade) in enumerate(shells):
            out.add(
                f"{name}_face",
                shade,
                [end],
                [_disc_axes(way, radius * share)],
                nearer=0.004 + 0.0005 * step,
                facing=facing,
                flat=True,
                turned=0.01,
            )
