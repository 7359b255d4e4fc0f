"""What a view can show of a lift: one table, and everything that says so reads it.

Common practice, no source, but for depth.
"""

import ast
from pathlib import Path

import pytest
from django.urls import reverse

from programming.movements.families import Family
from reviews.desk.claiming import claim
from reviews.intake import camera_views
from reviews.intake.camera_views import angles_of, hidden_decider, shows, sight_of
from reviews.intake.clip_data import clip_data
from reviews.intake.models import View
from reviews.library.models import Fault, Sight
from reviews.library.starter import STARTER
from reviews.replies.readiness import may_publish
from reviews.replies.selectors.reviews import review_of
from reviews.replies.services.call_rep import call_rep
from tests.conftest import Cast
from tests.reviews.replies.rows import a_clip, a_note, a_submission

SIDE, QUARTER, FRONT, REAR = View.values


def test_the_table_names_every_lift_view_and_mark_and_needs_no_django() -> None:
    assert set(camera_views._TABLE) == set(camera_views._PLACES) == set(Family.values)
    assert list(camera_views.VIEWS) == View.values
    assert {camera_views.YES, camera_views.PARTLY, camera_views.NO} == set(Sight.values)
    tree = ast.parse(Path(camera_views.__file__).read_text())
    named = [node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    assert named == ["typing"]


@pytest.mark.parametrize("family", Family.values)
def test_every_thing_is_seen_from_somewhere_and_every_view_shows_something(family: str) -> None:
    for what in camera_views._TABLE[family]:
        assert Sight.YES in sight_of(family, what).values(), what
    assert [angle.view for angle in angles_of(family)] == View.values
    for angle in angles_of(family):
        assert angle.place
        assert not angle.shows.startswith(("Partly", "Not")), angle


@pytest.mark.parametrize(
    ("family", "what", "sight"),
    [
        # IPF Technical Rulebook, squat: the top surface of the legs at the hip joint lower than
        # the top of the knees; judged from the side.
        ("squat", "depth", (Sight.YES, Sight.NO, Sight.NO, Sight.NO)),
        # The rest: common practice, no source.
        ("squat", "knees over the feet", (Sight.NO, Sight.PARTLY, Sight.YES, Sight.PARTLY)),
        ("squat", "hips and trunk", (Sight.YES, Sight.PARTLY, Sight.NO, Sight.NO)),
        ("bench", "level bar", (Sight.NO, Sight.PARTLY, Sight.YES, Sight.YES)),
        ("bench", "bar path", (Sight.YES, Sight.PARTLY, Sight.NO, Sight.NO)),
        ("bench", "hips on the bench", (Sight.YES, Sight.PARTLY, Sight.NO, Sight.NO)),
        ("deadlift", "bar path", (Sight.YES, Sight.PARTLY, Sight.NO, Sight.NO)),
        ("deadlift", "knees over the feet", (Sight.NO, Sight.PARTLY, Sight.YES, Sight.YES)),
        ("press", "level bar", (Sight.NO, Sight.PARTLY, Sight.YES, Sight.YES)),
    ],
)
def test_what_coaches_agree_on(family: str, what: str, sight: tuple[Sight, ...]) -> None:
    assert tuple(sight_of(family, what).values()) == sight


def test_45_degrees_never_shows_depth_and_a_bench_press_has_none() -> None:
    assert "Not depth." in shows(Family.SQUAT, QUARTER)
    assert "depth" not in shows(Family.SQUAT, QUARTER).replace("Not depth.", "")
    for view in View.values:
        assert "depth" not in shows(Family.BENCH, view).lower()
    assert shows(Family.SQUAT, "") == ""


EVERY = [(family, fault) for family, faults in STARTER.items() for fault in faults]


@pytest.mark.parametrize(("family", "fault"), EVERY, ids=lambda item: getattr(item, "name", item))
def test_every_fault_of_the_starter_is_seen_as_the_table_says(family, fault) -> None:
    assert fault.sight in [sight_of(family, what) for what in camera_views._TABLE[family]]


@pytest.mark.django_db
def test_the_workbench_the_request_and_the_page_of_asking_say_the_same(cast: Cast, client) -> None:
    submission = a_submission(cast.athlete)
    clip = a_clip(submission, view=QUARTER)
    sentence = shows(Family.SQUAT, QUARTER)
    assert clip_data(clip, cast.coach)["shows"] == sentence
    client.force_login(cast.coach)
    page = client.get(reverse("workbench-angle", args=[submission.pk])).content.decode()
    assert sentence in page
    client.force_login(cast.athlete)
    page = client.get(reverse("submit"), follow=True).content.decode()
    for family in Family.values:
        assert shows(family, QUARTER) in page


@pytest.mark.django_db
def test_a_call_that_its_view_cannot_carry_is_pointed_out(cast: Cast) -> None:
    submission = a_submission(cast.athlete)
    clip = a_clip(submission, view=QUARTER)
    a_note(cast.coach, clip, text="x", rank=1)
    claim(submission=submission, coach=cast.coach)

    def hint(verdict: dict) -> str:
        call_rep(coach=cast.coach, clip_id=clip.pk, rep=2, **verdict)
        found = may_publish(review_of(submission, cast.coach))
        assert found.ok, "a hint stops nobody"
        return found.why

    said = (
        "Rep 2 is to standard; at 45° the clip does not show depth. "
        "Is it “can't tell from this angle”?"
    )
    assert hint({"call": "standard"}) == said
    depth = Fault.objects.get(club=cast.coach.club, name="Short of depth")
    said = "Rep 2 is called on “Short of depth”, which this view cannot show."
    assert hint({"call": "not-standard", "faults": [depth]}) == said
    assert hint({"call": "cannot-tell"}) == ""
    clip.view = SIDE
    clip.save()
    assert hint({"call": "standard"}) == ""
    assert hidden_decider(Family.BENCH, FRONT) == hidden_decider(Family.SQUAT, "") == ""
    assert hidden_decider(Family.SQUAT, REAR) == "depth"
