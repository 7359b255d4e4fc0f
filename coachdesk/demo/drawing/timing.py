"""When things happen: reps, their phases, and how far through the lift the bar is at any time.

Speeds follow the load: mean concentric velocity falls along a straight load-velocity line to the
value lifters reach at their best (squat 0.23, bench 0.10, deadlift 0.14 m/s: Helms et al. 2017,
J Strength Cond Res 31(2):292-297). Slopes, pauses and descent times are plausible values from
memory.
"""

from dataclasses import dataclass

import numpy as np

from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.vectors import Floats, smooth

GROUND_UP = ("deadlift", "overhead_press")
DOWN_FIRST_PHASES = ("setup", "descent", "turnaround", "ascent", "lockout")
GROUND_UP_PHASES = ("setup", "ascent", "lockout", "return")
SPEED_AT_BEST = {"squat": 0.25, "bench_press": 0.13, "deadlift": 0.17, "overhead_press": 0.18}
SPEED_SLOPE = {"squat": 1.1, "bench_press": 1.1, "deadlift": 1.2, "overhead_press": 1.3}
TRAVEL = {"squat": 0.60, "bench_press": 0.38, "deadlift": 0.52, "overhead_press": 0.58}

SINK = 0.08  # share of the travel that a dropped bar goes on down before it turns


@dataclass(frozen=True)
class Phase:
    """A named stretch of a rep, in seconds from the start of the clip."""

    name: str
    start: float
    end: float


@dataclass(frozen=True)
class Rep:
    """One rep (number from 1): phases follow each other without a gap."""

    number: int
    phases: tuple[Phase, ...]


@dataclass(frozen=True)
class Timeline:
    """All reps of a clip; the last phase ends with the clip."""

    reps: tuple[Rep, ...]
    seconds: float


def _ascent_seconds(spec: ClipSpec, number: int) -> float:
    speed = SPEED_AT_BEST[spec.lift] + SPEED_SLOPE[spec.lift] * max(0.0, 1.0 - spec.effort)
    tired = 1.0 + 0.10 * (number - 1) * spec.effort**2
    return float(np.clip(TRAVEL[spec.lift] / speed * tired, 0.6, 3.2))


def _durations(spec: ClipSpec, number: int, bounce: float, rng: np.random.Generator) -> list[float]:
    wobble = 1.0 + 0.06 * rng.standard_normal()
    ascent = _ascent_seconds(spec, number) * (1.0 - 0.15 * bounce)
    setup = (0.9 if number == 1 else 0.45) * wobble
    lockout = 0.5 * wobble
    if spec.lift in GROUND_UP:
        back = (1.0 if spec.lift == "deadlift" else 0.9) * wobble
        return [setup, ascent, lockout, back]
    down = (1.35 if spec.lift == "squat" else 1.1) * wobble * (1.0 - 0.4 * bounce)
    pause = 0.45 if spec.kind == "paused" else 0.12
    return [setup, down, pause + (0.12 - pause) * bounce, ascent, lockout]


def timeline_of(spec: ClipSpec, strengths: dict[str, list[float]]) -> Timeline:
    """Lay the reps end to end; bounce shortens the way down and the pause."""
    rng = np.random.default_rng([spec.seed, 11])
    names = GROUND_UP_PHASES if spec.lift in GROUND_UP else DOWN_FIRST_PHASES
    now, reps = 0.0, []
    for number in range(1, spec.reps + 1):
        bounce = strengths["bounce"][number - 1] if "bounce" in strengths else 0.0
        spans = _durations(spec, number, bounce, rng)
        if number == spec.reps:
            spans[-1] += 0.5
        ends = now + np.cumsum(spans)
        starts = [now, *ends[:-1]]
        reps.append(
            Rep(
                number,
                tuple(
                    Phase(n, float(a), float(b))
                    for n, a, b in zip(names, starts, ends, strict=True)
                ),
            )
        )
        now = float(ends[-1])
    return cut(Timeline(tuple(reps), now), spec.seconds)


def cut(timeline: Timeline, seconds: float | None) -> Timeline:
    """End the clip early: phases that begin later are gone, the last one ends with the clip."""
    if seconds is None or seconds >= timeline.seconds:
        return timeline
    reps = []
    for rep in timeline.reps:
        kept = tuple(
            Phase(p.name, p.start, min(p.end, seconds)) for p in rep.phases if p.start < seconds
        )
        if kept:
            reps.append(Rep(rep.number, kept))
    return Timeline(tuple(reps), seconds)


def _rise(u: Floats, sticking: float) -> Floats:
    """Share of the way up at share u of the time; heavy lifts slow down below halfway."""
    grid = np.linspace(0.0, 1.0, 201)
    speed = grid**1.4 * (1 - grid) ** 1.4
    speed *= 1.0 - sticking * np.exp(-(((grid - 0.42) / 0.13) ** 2))
    way = np.concatenate([[0.0], np.cumsum((speed[1:] + speed[:-1]) / 2)])
    return np.interp(u, grid, way / way[-1])


@dataclass(frozen=True)
class Samples:
    """The lift at a list of times: every array has shape (T,).

    height is 0 at the low end of the lift and 1 at lockout; up is True while it rises for the
    rep; faults holds each fault's strength at that time.
    """

    t: Floats
    height: Floats
    up: Floats
    rep: Floats
    phase: list[str]
    faults: dict[str, Floats]
    sway: Floats

    def fault(self, name: str) -> Floats:
        """Strength of a fault over time, zero when the clip has none of it."""
        return self.faults.get(name, np.zeros_like(self.t))


def _phase_height(name: str, u: Floats, sticking: float, bounce: float) -> Floats:
    if name == "descent":
        return 1.0 - ((1 - bounce) * smooth(u) + bounce * u**1.6)
    if name == "turnaround":
        return -SINK * bounce * np.sin(np.pi / 2 * u)
    if name == "ascent":
        return -SINK * bounce + (1 + SINK * bounce) * _rise(u, sticking)
    if name == "return":
        return 1.0 - smooth(u)
    return np.full_like(u, 1.0)


def sample(spec: ClipSpec, line: Timeline, strengths: dict[str, list[float]], t: Floats) -> Samples:
    """The lift at times t (seconds, shape (T,)).

    A fault's strength passes from one rep's value to the next during the setup, so that nothing
    jumps.
    """
    height, up, rep = np.ones_like(t), np.zeros_like(t), np.ones_like(t)
    phase = [""] * len(t)
    faults = {name: np.full_like(t, values[0]) for name, values in strengths.items()}
    sticking = float(np.clip((spec.effort - 0.6) * 1.7, 0.0, 0.62))
    for item in line.reps:
        for stretch in item.phases:
            inside = (t >= stretch.start - 1e-9) & (t <= stretch.end + 1e-9)
            u = (t[inside] - stretch.start) / max(stretch.end - stretch.start, 1e-9)
            bounce = strengths.get("bounce", [0.0] * spec.reps)[item.number - 1]
            way = _phase_height(stretch.name, u, sticking, bounce)
            if stretch.name == "setup" and spec.lift in GROUND_UP:
                way = np.zeros_like(u)
            height[inside], rep[inside] = way, item.number
            up[inside] = float(stretch.name == "ascent")
            blend = smooth(u) if stretch.name == "setup" else np.ones_like(u)
            for name, values in strengths.items():
                last = values[max(0, item.number - 2)]
                faults[name][inside] = last + (values[item.number - 1] - last) * blend
            for index in np.flatnonzero(inside):
                phase[index] = stretch.name
    sway = np.sin(2 * np.pi * 0.31 * t + spec.seed) + 0.6 * np.sin(2 * np.pi * 0.83 * t)
    return Samples(t, height, up, rep, phase, faults, 0.002 * sway)
