"""Angles and heights read off a skeleton, for the tests of this folder."""

import json
from typing import Any

import numpy as np

from coachdesk.demo.drawing import DrawnClip
from coachdesk.demo.drawing.lift_motion import move, plan
from coachdesk.demo.drawing.spec import BEST_KG, LIFTS, ClipSpec

KINDS = [(lift, kind) for lift, kinds in LIFTS.items() for kind in kinds]


def heavy(lift: str, kind: str = "", **more) -> ClipSpec:
    """A set of three at the lifter's best, where every fault is at its full strength."""
    return ClipSpec(lift=lift, variant=kind, load_kg=BEST_KG[lift], **more)


def read_truth(clip: DrawnClip) -> dict[str, Any]:
    """The truth as plain values (see `truth.truth_of`)."""
    return json.loads(clip.truth.read_text())


class Lift:
    """A lift sampled 60 times a second, with the moments of one rep at hand."""

    def __init__(self, spec: ClipSpec, rep: int = -1) -> None:
        self.line = plan(spec)
        self.t = np.arange(0, self.line.seconds, 1 / 60)
        self.samples, self.sk = move(spec, self.line, self.t)
        self.phases = {p.name: p for p in self.line.reps[rep].phases}

    def at(self, phase: str, share: float) -> int:
        """Index of the sample that lies `share` of the way through a phase."""
        found = self.phases[phase]
        return int(np.abs(self.t - (found.start + share * (found.end - found.start))).argmin())

    def during(self, phase: str) -> slice:
        found = self.phases[phase]
        return slice(*np.searchsorted(self.t, [found.start, found.end]))

    def angle(self, a: str, b: str, c: str) -> np.ndarray:
        """Angle in degrees at joint b."""
        u, v = self.sk[a] - self.sk[b], self.sk[c] - self.sk[b]
        cosine = (u * v).sum(-1) / np.linalg.norm(u, axis=-1) / np.linalg.norm(v, axis=-1)
        return np.degrees(np.arccos(np.clip(cosine, -1, 1)))

    def lean(self) -> np.ndarray:
        """Hips to shoulders, degrees forward of upright."""
        trunk = self.sk["neck"] - self.sk["pelvis"]
        return np.degrees(np.arctan2(trunk[:, 0], trunk[:, 2]))
