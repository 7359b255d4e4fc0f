"""What the truth file says is where the paint is."""

import json

import numpy as np
import pytest

from coachdesk.demo.drawing import draw_clip
from coachdesk.demo.drawing.drawn_clip import Stage
from tests.coachdesk.demo.drawing.measuring import KINDS, heavy, read_truth

SMALL = {"size": (180, 320), "fps": 15, "audio": False}


@pytest.fixture(scope="module")
def clip(tmp_path_factory):
    spec = heavy("squat", faults={"knees_in": 0.7}, reps=2, **SMALL)
    return draw_clip(spec, tmp_path_factory.mktemp("truth") / "clip")


@pytest.mark.parametrize(("lift", "kind"), KINDS)
def test_reps_and_phases_cover_every_frame(lift, kind, tmp_path):
    spec = heavy(lift, kind, reps=2, **{**SMALL, "size": (64, 96), "fps": 5})
    drawn = draw_clip(spec, tmp_path / "clip")
    truth = read_truth(drawn)
    frames = [
        frame
        for rep in truth["reps"]
        for phase in rep["phases"]
        for frame in range(phase["first"], phase["last"] + 1)
    ]
    assert frames == list(range(drawn.frames))
    assert [rep["number"] for rep in truth["reps"]] == [1, 2]
    for rep in truth["reps"]:
        assert rep["first"] == rep["phases"][0]["first"]
        assert rep["last"] == rep["phases"][-1]["last"]


def test_every_series_has_a_value_for_every_frame(clip):
    truth = read_truth(clip)
    assert len(truth["ticks"]) == clip.frames
    for series in (*truth["joints"].values(), truth["bar"], truth["discs"]["left"]):
        assert np.array(series["world"]).shape == (clip.frames, 3)
        assert np.array(series["pixel"]).shape == (clip.frames, 2)
    assert np.array(truth["discs"]["right"]["ellipse"]).shape == (clip.frames, 5)
    assert len(truth["camera"]["rotations"]) == clip.frames


def test_pixels_are_the_projection_of_the_metres(clip):
    # From the file alone, by the textbook formula p = K R (X - C).
    truth = read_truth(clip)
    matrix = np.array(truth["camera"]["intrinsics"])
    centre = np.array(truth["camera"]["position"])
    for name in ("knee_left", "head", "hand_right"):
        world = np.array(truth["joints"][name]["world"])
        pixel = np.array(truth["joints"][name]["pixel"])
        for frame in range(0, clip.frames, 7):
            rotation = np.array(truth["camera"]["rotations"][frame])
            p = matrix @ rotation @ (world[frame] - centre)
            assert p[:2] / p[2] == pytest.approx(pixel[frame], abs=0.05)


def test_faults_are_told_per_rep_and_plates_weigh_the_load(clip):
    truth = read_truth(clip)
    first, last = (rep["faults"]["knees_in"] for rep in truth["reps"])
    assert 0 < first < last == pytest.approx(0.7)
    spec = truth["spec"]
    assert spec["bar_kg"] + 2 * sum(truth["plates_per_side_kg"]) == spec["load_kg"]
    assert json.loads(clip.truth.read_text()) == truth


@pytest.mark.parametrize("phase", ["setup", "lockout"])
def test_the_near_disc_is_painted_on_its_ellipse(phase):
    """Paint and truth agree to about a pixel all round the rim of the near disc."""
    spec = heavy("squat", size=(720, 1280), fps=5, reps=1, blur=False)
    stage = Stage(spec)
    frame = stage.samples.phase.index(phase)
    sk, camera = stage.exact, stage.cameras[frame]
    radius = max(p.radius for p in stage.plates)
    painted = stage.picture(frame).luma.astype(int)
    wide, room = stage.room
    empty = room.warped(wide.homography_to(camera), spec.size).luma.astype(int)
    thick = sum(p.thickness for p in stage.plates if p.radius == radius)
    axis, bar = sk["bar_axis"][frame], sk["bar"][frame]
    first = np.cross(axis, [1.0, 0, 0])
    turn = np.radians(np.arange(-60, 61, 5))[:, None]  # the upper part: only wall behind it
    ring = np.cos(turn) * np.array([0, 0, 1.0]) + np.sin(turn) * np.cross(axis, first)

    def differs(share: float) -> np.ndarray:
        points = bar - (0.655 + thick) * axis + radius * share * ring
        u, v = np.floor(camera.project(points)[0]).astype(int).T
        return np.abs(painted - empty)[v, u] > 12

    assert differs(0.97).all()
    assert not differs(1.06).any()
