"""Solids the painter knows: convex hulls of ellipsoids, collected for all times at once."""

from dataclasses import dataclass, field

import numpy as np

from coachdesk.demo.drawing.vectors import Floats


@dataclass(frozen=True)
class Solid:
    """One part: a slice of the ellipsoid arrays, painted as their hull.

    nearer (m) settles the order of parts at almost the same depth. With `facing` (T, 3) the part
    is painted only when that way looks at the camera (cosine above `turned`). flat parts get no
    shading. over is the index of the part it is worn on: both sort by that part's depth, or a
    sleeve could sink into its arm. With `along` (T, 3) the part is one of a stack in that
    direction: `nearer` counts up along it, and the other way round when seen from the far end.
    """

    name: str
    colour: str
    start: int
    stop: int
    nearer: float = 0.0
    facing: Floats | None = None
    flat: bool = False
    turned: float = 0.25
    over: int | None = None
    along: Floats | None = None


@dataclass
class Solids:
    """Centres (T, M, 3) and semi-axes (T, M, 3, 3; one axis a row) of every ellipsoid."""

    times: int
    parts: list[Solid] = field(default_factory=list)
    _centres: list[Floats] = field(default_factory=list)
    _axes: list[Floats] = field(default_factory=list)
    _count: int = 0

    def add(
        self,
        name: str,
        colour: str,
        centres: list[Floats],
        axes: list[Floats],
        nearer: float = 0.0,
        facing: Floats | None = None,
        flat: bool = False,
        turned: float = 0.25,
        over: int | None = None,
        along: Floats | None = None,
    ) -> int:
        """A part from ellipsoids: centres (T, 3) each, axes (T, 3, 3) each; its index."""
        self.parts.append(
            Solid(
                name,
                colour,
                self._count,
                self._count + len(centres),
                nearer,
                facing,
                flat,
                turned,
                over,
                along,
            )
        )
        self._count += len(centres)
        self._centres += [np.broadcast_to(c, (self.times, 3)) for c in centres]
        self._axes += [np.broadcast_to(a, (self.times, 3, 3)) for a in axes]
        return len(self.parts) - 1

    def tube(
        self,
        name: str,
        colour: str,
        a: Floats,
        b: Floats,
        profile: list[tuple[float, float]],
        nearer: float = 0.0,
        over: int | None = None,
    ) -> int:
        """Round limb from a to b: profile lists (share of the way, radius in metres)."""
        centres = [a + (b - a) * share for share, _ in profile]
        axes = [radius * np.eye(3) for _, radius in profile]
        return self.add(name, colour, centres, axes, nearer, over=over)

    def arrays(self) -> tuple[Floats, Floats]:
        """All centres and axes as contiguous arrays."""
        return np.stack(self._centres, axis=1), np.stack(self._axes, axis=1)
