"""A small gym's sound, made from numbers: room, breaths, and plates that clank."""

import wave
from pathlib import Path

import numpy as np

from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.timing import Timeline
from coachdesk.demo.drawing.vectors import Floats

RATE = 48_000


def _hiss(rng: np.random.Generator, seconds: float, smooth: int) -> Floats:
    noise = rng.standard_normal(max(1, int(seconds * RATE)) + smooth)
    total = np.cumsum(noise)
    return np.asarray((total[smooth:] - total[:-smooth]) / np.sqrt(smooth))


def _clank(rng: np.random.Generator, loud: float) -> Floats:
    t = np.arange(int(0.5 * RATE)) / RATE
    ring = sum(
        np.sin(2 * np.pi * hertz * t + rng.uniform(0, 6)) * np.exp(-t * decay)
        for hertz, decay in ((410, 16), (963, 22), (1730, 30), (2890, 40), (4210, 60))
    )
    return np.asarray(loud * ring / 5 + loud * 0.5 * np.exp(-t * 90) * rng.standard_normal(len(t)))


def write_sound(out: Path, spec: ClipSpec, line: Timeline, channels: int) -> None:
    """A WAV as long as the clip: a breath at each setup and lockout, plates where they stop."""
    rng = np.random.default_rng([spec.seed, 61])
    total = np.concatenate([0.004 * _hiss(rng, line.seconds, 40), np.zeros(RATE)])

    def mix(start: float, piece: Floats) -> None:
        first = int(start * RATE)
        total[first : first + len(piece)] += piece[: max(0, len(total) - first)]

    for rep in line.reps:
        for phase in rep.phases:
            if phase.name in ("setup", "lockout"):
                breath = _hiss(rng, 0.35, 6)
                mix(phase.start, 0.02 * breath * np.hanning(len(breath)))
            if phase.name in ("lockout", "return"):
                heavy = spec.lift == "deadlift" and phase.name == "return"
                at = phase.end if heavy else phase.start
                mix(at, _clank(rng, 0.5 if heavy else 0.10))
    sound = (np.clip(total[: int(line.seconds * RATE)], -1, 1) * 32767).astype("<i2")
    with wave.open(str(out), "wb") as file:
        file.setnchannels(channels)
        file.setsampwidth(2)
        file.setframerate(RATE)
        file.writeframes(np.repeat(sound, channels).tobytes())
