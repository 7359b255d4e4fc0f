"""Draws a clip: spec in, video file and truth beside it out."""

import json
import os
import tempfile
from collections.abc import Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import cached_property
from multiprocessing import get_context
from pathlib import Path

import cv2
import numpy as np

from coachdesk.demo.drawing.barbell import add_barbell
from coachdesk.demo.drawing.body import body_of
from coachdesk.demo.drawing.camera import Camera, hand_shake, place
from coachdesk.demo.drawing.disc_sizes import SLEEVE_END, plates_per_side
from coachdesk.demo.drawing.encode import PROFILES, TICKS, Encoder, frame_ticks
from coachdesk.demo.drawing.fault_motion import check, strengths
from coachdesk.demo.drawing.figure import figure_of
from coachdesk.demo.drawing.grain import Sensor
from coachdesk.demo.drawing.lift_motion import move, plan
from coachdesk.demo.drawing.looks import look_of
from coachdesk.demo.drawing.paint import Painter
from coachdesk.demo.drawing.planes import Planes
from coachdesk.demo.drawing.scene import room_picture
from coachdesk.demo.drawing.shadow import cast
from coachdesk.demo.drawing.signal import Signal
from coachdesk.demo.drawing.sound import write_sound
from coachdesk.demo.drawing.spec import ClipSpec
from coachdesk.demo.drawing.truth import truth_of
from coachdesk.demo.drawing.vectors import Floats

SUBS = 3  # looks through the shutter per frame while something moves
STILL, SLOW = 0.7, 2.0  # px moved while the shutter is open: one look, two looks, all
PAD = 0.05  # how much more room is painted around the picture, for the hand to shake into


@dataclass(frozen=True)
class DrawnClip:
    """A clip on disk: the video, the truth file beside it, and how many frames it has."""

    video: Path
    truth: Path
    frames: int


class Stage:
    """One clip made ready to be painted: times, joints, camera, room and solids."""

    def __init__(self, spec: ClipSpec) -> None:
        check(spec)
        if spec.profile not in PROFILES:
            raise ValueError(f"unknown profile {spec.profile!r}: one of {', '.join(PROFILES)}")
        self.spec, self.profile = spec, PROFILES[spec.profile]
        self.person = spec.seed if spec.look is None else spec.look
        self.fps = spec.fps or self.profile.fps
        self.line = plan(spec)
        self.strengths = strengths(spec)
        self.ticks = frame_ticks(self.profile, self.fps, self.line.seconds, spec.seed)
        self.times = self.ticks / TICKS
        self.plates = plates_per_side(spec.load_kg, spec.bar_kg, spec.lift == "deadlift")
        self.signal = Signal(hlg=self.profile.ten_bit)
        shutter = min(0.5 / self.fps, 1 / 90)
        offsets = np.linspace(-0.5, 0.5, SUBS) * shutter if spec.blur else np.zeros(1)
        self.subs = len(offsets)
        spread = (self.times[:, None] + offsets).ravel()
        _, self.skeleton = move(spec, self.line, np.clip(spread, 0, self.line.seconds))
        self.samples, self.exact = move(spec, self.line, self.times)
        self.still = place(spec.view, spec.lift, spec.size, self._extent(), self._nudge())
        turns = hand_shake(spec.seed, self.times, spec.shake)
        self.cameras = [self.still.turned(turn) for turn in turns]

    def _nudge(self) -> Floats:
        rng = np.random.default_rng([self.spec.seed, 71])
        return np.asarray(rng.uniform(-1, 1, 2) * np.array([4.0, 0.08]) * min(1.0, self.spec.shake))

    def _extent(self) -> Floats:
        """Points that must stay in the picture: joints, bar ends and the tops of the discs."""
        sk = self.exact
        points = [v for k, v in sk.items() if k not in ("gaze", "bar_axis")]
        points.append(sk["head"] + np.array([0, 0, 0.13]))
        radius = np.array([0, 0, max((p.radius for p in self.plates), default=0.0)])
        for reach in (-SLEEVE_END, SLEEVE_END):
            end = sk["bar"] + reach * sk["bar_axis"]
            points += [end - radius, end + radius]
        return np.concatenate(points)

    @cached_property
    def painter(self) -> Painter:
        """The lifter and the bar, ready to paint."""
        spec = self.spec
        look = look_of(self.person, spec.lift)
        solids = figure_of(body_of(spec.height), look, self.skeleton)
        add_barbell(solids, self.skeleton, self.plates)
        return Painter(solids, look.colours, self.signal)

    @cached_property
    def room(self) -> tuple[Camera, Planes]:
        """A wider still camera at the same place, and the room it sees."""
        width, height = self.spec.size
        pad = 2 * int(PAD * max(width, height) / 2)
        wide = self.still.intrinsics.copy()
        wide[:2, 2] += pad
        camera = Camera(wide, self.still.rotation, self.still.position)
        size = (width + 2 * pad, height + 2 * pad)
        spec = self.spec
        room = room_picture(camera, size, spec.lift, spec.view, spec.seed, self.person, self.signal)
        return camera, Planes.of(room)

    def picture(self, frame: int) -> Planes:
        """One upright frame in the clip's signal, before the sensor."""
        camera = self.cameras[frame]
        wide, room = self.room
        planes = room.warped(wide.homography_to(camera), self.spec.size)
        first = frame * self.subs
        disc = max((plate.radius for plate in self.plates), default=0.0)
        cast(planes, camera, self.skeleton, first + self.subs // 2, disc)
        paint_blurred(self.painter, planes, camera, first, self.subs)
        return planes


def paint_blurred(painter: Painter, planes: Planes, camera: Camera, first: int, subs: int) -> None:
    """Paint the mean of several looks through the open shutter; one look when nothing moves."""
    outlines = [painter.outline(camera, first + i) for i in range(subs)]
    moved = np.abs(outlines[-1].centre - outlines[0].centre).max()
    looks = [subs // 2] if moved < STILL else [0, subs - 1] if moved < SLOW else list(range(subs))
    points = np.concatenate([(o.centre[:, None] + o.rim).reshape(-1, 2) for o in outlines])
    height, width = planes.luma.shape
    x0, y0 = np.clip(points.min(0) - 4, 0, [width - 2, height - 2]).astype(int) // 2 * 2
    x1, y1 = np.clip(points.max(0) + 6, 2, [width, height]).astype(int) // 2 * 2
    empty = planes.cut(x0, y0, x1, y1)
    corner = np.array([x0, y0], dtype=float)
    total = np.zeros(empty.shape, np.uint16)
    for look in looks:
        layer = empty if len(looks) == 1 else empty.copy()
        painter.paint(layer, camera, first + look, outlines[look], corner)
        if len(looks) == 1:
            planes.paste(layer, x0, y0)
            return
        cv2.add(total, layer, total, dtype=cv2.CV_16U)
    planes.paste(cv2.convertScaleAbs(total, alpha=1 / len(looks)), x0, y0)


def draw_clip(spec: ClipSpec, out: Path) -> DrawnClip:
    """Draw a clip to `out` (its suffix becomes the profile's) with its truth as JSON beside it.

    The same spec gives the same frames. The video appears whole or not at all, and the truth after
    it, so a truth file means a finished clip. Raises ValueError for a spec that cannot be drawn and
    RuntimeError with ffmpeg's words when encoding fails.
    """
    stage = Stage(spec)
    video = out.with_suffix(stage.profile.suffix)
    beside = video.with_suffix(".json")
    part = video.with_name(f".{video.stem}.part{video.suffix}")
    threads = cv2.getNumThreads()
    cv2.setNumThreads(1)
    try:
        _film(stage, part)
        part.replace(video)
    finally:
        cv2.setNumThreads(threads)
        part.unlink(missing_ok=True)
    truth = truth_of(
        spec,
        stage.line,
        stage.samples,
        stage.exact,
        stage.cameras,
        stage.plates,
        stage.ticks,
        stage.strengths,
    )
    beside.write_text(json.dumps(truth, separators=(",", ":")))
    return DrawnClip(video, beside, len(stage.ticks))


def _film(stage: Stage, video: Path) -> None:
    """Paint, add the sensor's noise and encode, frame after frame."""
    spec, profile = stage.spec, stage.profile
    sensor = Sensor(spec.size, spec.seed, spec.noise, profile.ten_bit)
    with tempfile.TemporaryDirectory() as scratch:
        sound = Path(scratch) / "sound.wav" if spec.audio else None
        if sound:
            write_sound(sound, spec, stage.line, profile.channels)
        with Encoder(video, profile, spec.size, stage.fps, stage.ticks, sound) as encoder:
            for frame in range(len(stage.ticks)):
                picture = stage.picture(frame)
                encoder.write(sensor.stored(picture, frame, spec.counter, profile.turns))


def draw_clips(
    jobs: Sequence[tuple[ClipSpec, Path]], workers: int | None = None
) -> list[DrawnClip]:
    """Draw many clips, one process per core (or `workers`); results in the order of the jobs."""
    count = workers or min(len(jobs), os.cpu_count() or 1)
    with ProcessPoolExecutor(max_workers=count, mp_context=get_context("spawn")) as pool:
        return list(pool.map(draw_clip, *zip(*jobs, strict=True)))
