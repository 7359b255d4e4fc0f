"""The camera is a pinhole: checked against OpenCV's own projection."""

import cv2
import numpy as np
import pytest

from coachdesk.demo.drawing.camera import hand_shake, look_at, place
from coachdesk.demo.drawing.drawn_clip import Stage
from coachdesk.demo.drawing.paint import outline_of
from coachdesk.demo.drawing.spec import VIEWS
from coachdesk.demo.drawing.truth import disc_ellipse
from tests.coachdesk.demo.drawing.measuring import KINDS, heavy

POINTS = np.random.default_rng(3).uniform([-0.6, -1.0, 0.0], [0.6, 1.0, 2.1], (200, 3))


@pytest.fixture(scope="module")
def camera():
    still = look_at(np.array([2.4, -2.6, 0.8]), np.array([0.0, 0.1, 0.9]), (720, 1280))
    return still.turned(np.array([0.004, -0.006, 0.01]))


def test_projects_as_opencv_does(camera):
    turn, _ = cv2.Rodrigues(camera.rotation)
    shift = -camera.rotation @ camera.position
    expected, _ = cv2.projectPoints(POINTS, turn, shift, camera.intrinsics, None)
    pixels, depth = camera.project(POINTS)
    assert np.allclose(pixels, expected[:, 0], atol=1e-6)
    assert (depth > 0).all()


def test_rotation_is_a_rotation(camera):
    assert np.allclose(camera.rotation @ camera.rotation.T, np.eye(3), atol=1e-12)
    assert np.linalg.det(camera.rotation) == pytest.approx(1.0)


def test_a_shaken_frame_is_a_homography_of_the_still_one(camera):
    shaken = camera.turned(np.array([0.01, 0.02, -0.015]))
    before, after = camera.project(POINTS)[0], shaken.project(POINTS)[0]
    moved = cv2.perspectiveTransform(before[None], camera.homography_to(shaken))[0]
    assert np.allclose(moved, after, atol=1e-6)


def test_disc_ellipse_is_the_picture_of_the_circle(camera):
    # Against OpenCV's ellipse through densely projected rim points.
    axis = np.array([0.05, 0.99, 0.1]) / np.linalg.norm([0.05, 0.99, 0.1])
    centre, radius = np.array([0.02, -0.8, 1.1]), 0.225
    first = np.cross(axis, [1.0, 0, 0])
    first /= np.linalg.norm(first)
    turn = np.linspace(0, 2 * np.pi, 400, endpoint=False)[:, None]
    rim = centre + radius * (np.cos(turn) * first + np.sin(turn) * np.cross(axis, first))
    fitted = cv2.fitEllipseDirect(camera.project(rim)[0].astype(np.float32))
    u, v, long, short, _ = disc_ellipse(camera, centre, axis, radius)
    assert (u, v) == pytest.approx(fitted[0], abs=0.02)
    assert sorted((short, long)) == pytest.approx(sorted(fitted[1]), abs=0.05)


def test_ball_outline_matches_projected_surface(camera):
    # The widest reach of many surface points in each direction, against the painter's outline.
    ball = np.random.default_rng(1).standard_normal((40_000, 3))
    ball = 0.1 * ball / np.linalg.norm(ball, axis=1)[:, None]
    centre = np.array([[0.1, 0.2, 1.0]])
    seen = outline_of(camera, centre, 0.1 * np.eye(3)[None])
    pixels = camera.project(centre + ball)[0] - seen.centre[0]
    assert np.abs(pixels).max(0) == pytest.approx(np.abs(seen.rim[0]).max(0), abs=1.0)


@pytest.mark.parametrize("view", VIEWS)
@pytest.mark.parametrize(("lift", "kind"), KINDS)
def test_the_whole_lift_is_in_the_picture(lift, kind, view):
    stage = Stage(heavy(lift, kind, view=view, reps=1, size=(180, 320), fps=10))
    for name in ("head", "toe_left", "toe_right", "hand_left", "hand_right", "bar"):
        for index, camera in enumerate(stage.cameras):
            u, v = camera.project(stage.exact[name][index])[0]
            assert 0 < u < 180, (name, index)
            assert 0 < v < 320, (name, index)


def test_the_side_view_sees_the_lifter_face_right():
    points = np.array([[0, 0, 0], [0, 0, 1.75], [0, 1, 1.4], [0, -1, 1.4]])
    camera = place("side", "squat", (720, 1280), points, np.zeros(2))
    ahead, behind = camera.project(np.array([[0.3, 0, 1], [-0.3, 0, 1]]))[0]
    assert ahead[0] > behind[0]
    high, low = camera.project(np.array([[0, 0, 1.5], [0, 0, 0.5]]))[0]
    assert high[1] < low[1]


def test_hand_shake_is_small_and_smooth():
    t = np.arange(0, 10, 1 / 30)
    turn = np.degrees(hand_shake(5, t, 1.0))
    assert 0.05 < np.abs(turn).max() < 0.6
    assert np.abs(np.diff(turn, axis=0)).max() < 0.06
