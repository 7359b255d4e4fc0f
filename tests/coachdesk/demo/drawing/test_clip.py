"""The same spec draws the same clip; the small one is quick to draw; many can be drawn at once."""

import cv2
import numpy as np
import pytest

from coachdesk.demo.drawing import ClipSpec, draw_clip, draw_clips
from coachdesk.demo.drawing.drawn_clip import Stage
from tests.coachdesk.demo.drawing.decoding import upright_frames
from tests.coachdesk.demo.drawing.measuring import KINDS

TINY = {"size": (120, 200), "seconds": 0.5, "reps": 1, "audio": False}


def _pixels(drawn) -> np.ndarray:
    return np.stack([picture for _, picture in upright_frames(drawn.video)])


def test_the_seed_decides_everything(tmp_path):
    first = draw_clip(ClipSpec(seed=3, **TINY), tmp_path / "a")
    again = draw_clip(ClipSpec(seed=3, **TINY), tmp_path / "b")
    other = draw_clip(ClipSpec(seed=4, **TINY), tmp_path / "c")
    assert (_pixels(first) == _pixels(again)).all()
    assert first.truth.read_text() == again.truth.read_text()
    assert (_pixels(first) != _pixels(other)).mean() > 0.3


def test_many_at_once_are_the_same_as_one_by_one(tmp_path):
    specs = [ClipSpec(seed=n, **TINY) for n in (1, 2)]
    together = draw_clips([(spec, tmp_path / f"t{spec.seed}") for spec in specs], workers=2)
    alone = [draw_clip(spec, tmp_path / f"a{spec.seed}") for spec in specs]
    for a, b in zip(together, alone, strict=True):
        assert (_pixels(a) == _pixels(b)).all()


@pytest.mark.parametrize(("lift", "kind"), KINDS)
@pytest.mark.parametrize("view", ["side", "45", "front", "rear"])
def test_a_lifter_stands_out_from_the_room(lift, kind, view):
    """Something is painted, where the joints are, and the room around it stays as it was."""
    spec = ClipSpec(lift=lift, variant=kind, view=view, fps=4, load_kg=100, size=(180, 320))
    stage = Stage(spec)
    frame = len(stage.ticks) // 2
    camera = stage.cameras[frame]
    wide, room = stage.room
    empty = room.warped(wide.homography_to(camera), spec.size).picture().astype(int)
    changed = np.abs(stage.picture(frame).picture().astype(int) - empty).max(-1) > 6
    near = cv2.dilate(changed.astype(np.uint8), np.ones((5, 5), np.uint8))
    assert 0.02 < changed.mean() < 0.5
    for name in ("pelvis", "neck", "knee_left", "knee_right", "hand_left"):
        u, v = camera.project(stage.exact[name][frame])[0].astype(int)
        assert near[v, u], name


def test_noise_and_motion_blur_are_there(tmp_path):
    still = draw_clip(ClipSpec(noise=0, shake=0, **TINY), tmp_path / "still")
    grainy = draw_clip(ClipSpec(noise=1, shake=0, **TINY), tmp_path / "grainy")
    corner = (slice(None), slice(0, 20), slice(90, 120))

    def flicker(drawn) -> float:
        return float(np.diff(_pixels(drawn)[corner].astype(float), axis=0).std())

    assert flicker(grainy) > flicker(still) + 0.5

    def edge(blur: bool) -> float:
        spec = ClipSpec(lift="squat", load_kg=40, fps=24, size=(360, 640), blur=blur, shake=0)
        stage = Stage(spec)
        fast = int(np.abs(np.diff(stage.exact["bar"][:, 2])).argmax())
        luma = stage.picture(fast).luma.astype(float)
        return float(np.abs(np.diff(luma, axis=0)).max())

    assert edge(True) < edge(False)


def test_an_unknown_profile_is_refused(tmp_path):
    with pytest.raises(ValueError, match="profile"):
        draw_clip(ClipSpec(profile="film"), tmp_path / "x")
    assert not list(tmp_path.iterdir())


def test_what_ffmpeg_says_is_passed_on(tmp_path):
    with pytest.raises(RuntimeError, match=r"(?i)no such file"):
        draw_clip(ClipSpec(**TINY), tmp_path / "missing" / "clip")
