"""The truth beside a clip: what was drawn, where, when, frame by frame, as plain JSON values."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from coachdesk.demo.drawing.body import Skeleton
from coachdesk.demo.drawing.camera import Camera
from coachdesk.demo.drawing.disc_sizes import SLEEVE_START, Plate
from coachdesk.demo.drawing.encode import TICKS
from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.timing import Samples, Timeline
from coachdesk.demo.drawing.vectors import Floats, unit

JOINTS = (
    "pelvis", "waist", "chest", "neck", "head",
    *(f"{joint}_{side}" for side in ("left", "right")
      for joint in ("shoulder", "elbow", "hand", "hip", "knee", "ankle", "heel", "toe")),
)  # fmt: skip


def disc_ellipse(camera: Camera, centre: Floats, axis: Floats, radius: float) -> list[float]:
    """The picture of a disc's rim: centre u, v, long and short full axes (px), angle (degrees).

    A circle's plane maps to the picture by a homography H; the image of the dual conic
    diag(1, 1, -1) is H D H^T (Hartley and Zisserman, Multiple View Geometry, from memory), from
    which centre and axes follow exactly. The angle is of the long axis, from +u towards +v.
    """
    first = unit(np.cross(axis, np.array([1.0, 0.0, 0.0])))
    second = np.cross(axis, first)
    columns = [camera.rotation @ (first * radius), camera.rotation @ (second * radius)]
    plane = np.stack([*columns, camera.rotation @ (centre - camera.position)], axis=1)
    image = camera.intrinsics @ plane
    dual = image @ np.diag([1.0, 1.0, -1.0]) @ image.T
    middle = dual[:2, 2] / dual[2, 2]
    spread = np.outer(middle, middle) - dual[:2, :2] / dual[2, 2]
    values, vectors = np.linalg.eigh(spread)
    short, long = 2 * np.sqrt(np.maximum(values, 0))
    angle = float(np.degrees(np.arctan2(vectors[1, 1], vectors[0, 1])) % 180)
    return [*_short(middle, 3), round(float(long), 3), round(float(short), 3), round(angle, 3)]


def _short(values: Floats, digits: int) -> list[Any]:
    return np.asarray(values).round(digits).tolist()


def _points(world: Floats, cameras: list[Camera]) -> dict[str, Any]:
    pixels = np.stack(
        [camera.project(point)[0] for camera, point in zip(cameras, world, strict=True)]
    )
    return {"world": _short(world, 4), "pixel": _short(pixels, 2)}


def _discs(sk: Skeleton, cameras: list[Camera], plates: tuple[Plate, ...]) -> dict[str, Any]:
    if not plates:
        return {}
    radius = max(p.radius for p in plates)
    last = max(i for i, p in enumerate(plates) if p.radius == radius)
    out = SLEEVE_START + sum(p.thickness for p in plates[: last + 1])
    found: dict[str, Any] = {"radius_m": radius}
    for side, sign in (("left", 1.0), ("right", -1.0)):
        centres = sk["bar"] + sign * out * sk["bar_axis"]
        found[side] = {
            **_points(centres, cameras),
            "ellipse": [
                disc_ellipse(camera, centre, axis, radius)
                for camera, centre, axis in zip(cameras, centres, sk["bar_axis"], strict=True)
            ],
        }
    return found


def reps_of(
    line: Timeline, ticks: NDArray[np.int64], strengths: dict[str, list[float]]
) -> list[dict[str, Any]]:
    """Reps with first and last frame (inclusive) of each phase; together they cover the clip.

    A phase too short to own a frame is left out.
    """
    times = ticks / TICKS
    names = [(rep, phase) for rep in line.reps for phase in rep.phases]
    starts = np.array([phase.start for _, phase in names])
    owner = np.searchsorted(starts, times + 1e-9, side="right") - 1
    reps: list[dict[str, Any]] = []
    for rep in line.reps:
        phases = []
        for index, (whose, phase) in enumerate(names):
            frames = np.flatnonzero(owner == index)
            if whose is rep and len(frames):
                phases.append(
                    {"name": phase.name, "first": int(frames[0]), "last": int(frames[-1])}
                )
        if phases:
            faults = {k: v[rep.number - 1] for k, v in strengths.items() if v[rep.number - 1] > 0}
            reps.append(
                {
                    "number": rep.number,
                    "first": phases[0]["first"],
                    "last": phases[-1]["last"],
                    "phases": phases,
                    "faults": faults,
                }
            )
    return reps


def truth_of(
    spec: ClipSpec,
    line: Timeline,
    samples: Samples,
    sk: Skeleton,
    cameras: list[Camera],
    plates: tuple[Plate, ...],
    ticks: NDArray[np.int64],
    strengths: dict[str, list[float]],
) -> dict[str, Any]:
    """Everything known about the clip. Pixels are of the upright picture, metres of the room."""
    first = cameras[0]
    return {
        "spec": spec.as_json(),
        "size": list(spec.size),
        "ticks_per_second": TICKS,
        "ticks": ticks.tolist(),
        "axes": "x forward from mid-foot, y to the lifter's left, z up from the floor; metres",
        "camera": {
            "intrinsics": _short(first.intrinsics, 4),
            "position": _short(first.position, 5),
            "rotations": [_short(c.rotation, 7) for c in cameras],
        },
        "plates_per_side_kg": [p.kg for p in plates],
        "joints": {name: _points(sk[name], cameras) for name in JOINTS},
        "bar": {**_points(sk["bar"], cameras), "axis": _short(sk["bar_axis"], 6)},
        "discs": _discs(sk, cameras, plates),
        "phase": samples.phase,
        "reps": reps_of(line, ticks, strengths),
    }
