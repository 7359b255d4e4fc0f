"""Bar, discs and collars as solids along the bar's axis."""

from itertools import pairwise

import numpy as np

from coachdesk.demo.drawing.body import Skeleton
from coachdesk.demo.drawing.disc_sizes import (
    COLLAR_WIDTH,
    SHAFT_RADIUS,
    SLEEVE_END,
    SLEEVE_RADIUS,
    SLEEVE_START,
    Plate,
)
from coachdesk.demo.drawing.solids import Solids
from coachdesk.demo.drawing.vectors import Floats, unit

SHAFT_CUTS = (-0.655, -0.5, -0.36, -0.24, -0.1, 0.1, 0.24, 0.36, 0.5, 0.655)
# Rings of a disc's face, from the rim in: share of the radius and colour.
RINGS = (
    (1.0, "{}_edge"), (0.93, "{}"), (0.62, "{}_edge"), (0.59, "{}_deep"),
    (0.30, "{}_edge"), (0.27, "steel"),
)  # fmt: skip
STEP = 1e-4  # m: keeps a sleeve's parts in order without moving the sleeve


def add_barbell(out: Solids, sk: Skeleton, plates: tuple[Plate, ...]) -> None:
    """The bar in short pieces (so that each sorts by its own depth), then each sleeve's load."""
    centre, axis = sk["bar"], sk["bar_axis"]
    for a, b in pairwise(SHAFT_CUTS):
        ends = [centre + axis * a, centre + axis * b]
        out.add("shaft", "chrome", ends, [_disc_axes(axis, SHAFT_RADIUS)] * 2)
    for sign in (1.0, -1.0):
        way = axis * sign
        _sleeve(out, centre, way, plates)


def _sleeve(out: Solids, centre: Floats, way: Floats, plates: tuple[Plate, ...]) -> None:
    at = SLEEVE_START
    drums = [("collar", "steel", at - 0.012, at, 0.035)]
    for plate in plates:
        drums.append(
            ("plate", plate.colour, at + 0.001, at + plate.thickness - 0.001, plate.radius)
        )
        at += plate.thickness
    drums.append(("clip", "dark", at, at + COLLAR_WIDTH, 0.038))
    drums.append(("sleeve", "chrome", at + COLLAR_WIDTH, SLEEVE_END, SLEEVE_RADIUS))
    root: int | None = None
    radii = [0.0, *(radius for *_, radius in drums), 0.0]
    for place, (name, colour, near, far, radius) in enumerate(drums):
        ends = (centre + way * near, centre + way * far)
        covers = (radii[place], radii[place + 2])
        root = _drum(out, (name, colour), ends, way, radius, covers, place, root)


def _disc_axes(way: Floats, radius: float) -> Floats:
    first = unit(np.cross(way, np.array([1.0, 0.0, 0.0])))
    second = np.cross(way, first)
    return np.stack([first * radius, second * radius, way * 0.0005], axis=1)


def _drum(
    out: Solids,
    what: tuple[str, str],
    ends: tuple[Floats, Floats],
    way: Floats,
    radius: float,
    covers: tuple[float, float],
    place: int,
    root: int | None,
) -> int:
    """A short cylinder: its wall, then rim, recess and hub of whichever face is seen.

    covers are the radii of what touches its two faces; rings wholly behind them are not made.
    place is its turn on the sleeve, from inside out; the whole sleeve sorts by its root part.
    """
    name, colour = what
    axes = _disc_axes(way, radius)
    wall = out.add(name, colour, list(ends), [axes] * 2, STEP * place, over=root, along=way)
    root = wall if root is None else root
    shells = RINGS if name == "plate" else RINGS[:2]
    for end, facing, sign, cover in zip(ends, (-way, way), (-1.0, 1.0), covers, strict=True):
        for ring, (share, shade) in enumerate(shells, start=1):
            if radius * share <= cover:
                continue
            out.add(
                f"{name}_face",
                shade.format(colour),
                [end],
                [_disc_axes(way, radius * share)],
                nearer=STEP * (place + sign * 0.07 * ring),
                facing=facing,
                flat=True,
                turned=0.01,
                over=root,
                along=way,
            )
    return root
