"""Small 3-D helpers on arrays of points, shape (T, 3): metres, x forward, y left, z up."""

import numpy as np
from numpy.typing import NDArray

Floats = NDArray[np.float64]


def vec(x: Floats | float, y: Floats | float, z: Floats | float) -> Floats:
    """Stack three coordinates, each a number or shape (T,), into (T, 3)."""
    return np.stack(np.broadcast_arrays(x, y, z), axis=-1).astype(float)


def length(v: Floats) -> Floats:
    """Euclidean length over the last axis."""
    return np.asarray(np.sqrt((v * v).sum(-1)))


def unit(v: Floats) -> Floats:
    """The same directions with length 1 (a zero vector stays zero)."""
    return np.asarray(v / np.maximum(length(v)[..., None], 1e-12))


def smooth(u: Floats | float) -> Floats:
    """Minimum-jerk step from 0 to 1: 10u^3 - 15u^4 + 6u^5 (Flash and Hogan 1985, from memory)."""
    u = np.clip(u, 0.0, 1.0)
    return np.asarray(u**3 * (10 - 15 * u + 6 * u * u))


def hump(u: Floats | float, start: float, end: float) -> Floats:
    """A smooth bump: 0 outside (start, end), 1 halfway between."""
    inside = np.clip((np.asarray(u) - start) / (end - start), 0.0, 1.0)
    return np.asarray(np.sin(np.pi * inside) ** 2)


def bend(root: Floats, tip: Floats, upper: float, lower: float, pole: Floats) -> Floats:
    """Where the middle joint of a two-bone limb is (knee, elbow), bent towards `pole`.

    Law of cosines in the plane of root, tip and pole. Bones keep their length as long as the tip
    is within reach; callers keep it there, and the tests measure every bone in every frame.
    """
    reach = tip - root
    distance = np.maximum(length(reach), 1e-9)
    along = (upper**2 - lower**2 + distance**2) / (2 * distance)
    out = np.sqrt(np.maximum(upper**2 - along**2, 0.0))
    axis = reach / distance[..., None]
    side = unit(pole - axis * (pole * axis).sum(-1)[..., None])
    return np.asarray(root + axis * along[..., None] + side * out[..., None])
