"""Whether a reply may go, each rule with its sentence."""

from datetime import timedelta

import pytest
from django.utils import timezone

from athletes.local_time import long_date, today_of
from reviews.desk.claiming import claim
from reviews.intake.models import ClipState, State
from reviews.replies.readiness import MayPublish, may_publish
from reviews.replies.selectors.reviews import review_of
from reviews.replies.services.call_rep import call_rep
from reviews.replies.stop_advice import stops_in
from tests.programming.logs.rows import a_plan
from tests.reviews.replies.rows import a_clip, a_note, a_submission

pytestmark = pytest.mark.django_db


@pytest.fixture
def submission(cast):
    return a_submission(cast.athlete)


@pytest.fixture
def clip(submission):
    return a_clip(submission)


def verdict(cast, submission, state: str = State.WAITING) -> MayPublish:
    review = review_of(submission, cast.coach)
    review.submission.state = state
    return may_publish(review)


def test_unclaimed(cast, submission) -> None:
    assert verdict(cast, submission) == MayPublish(ok=False, why="Claim this first.")


def test_closed(cast, submission) -> None:
    assert verdict(cast, submission, state=State.CLOSED).why == "This one is closed."


def test_in_other_hands(cast, submission) -> None:
    claim(submission=submission, coach=cast.second_coach)
    assert verdict(cast, submission).why.startswith("Bram claimed it at")


def test_nothing_said(cast, submission, clip) -> None:
    a_note(cast.coach, clip, text="left for now")
    assert "Put a note into the reply" in verdict(cast, submission).why


def test_a_point_that_says_nothing(cast, submission, clip) -> None:
    a_note(cast.coach, clip, text="hips", rank=1)
    a_note(cast.coach, clip, text="  ", rank=2)
    assert verdict(cast, submission).why.startswith("Point 2 says nothing yet")


def test_a_day_that_passed_while_it_lay_there(cast, submission, clip) -> None:
    a_note(cast.coach, clip, text="hips", rank=1)
    review = review_of(submission, cast.coach)
    review.reply.film_again_by = timezone.localdate() - timedelta(days=2)
    assert "has passed" in may_publish(review).why


def test_more_points_than_are_remembered_is_a_hint_only(cast, submission, clip, settings) -> None:
    settings.FOCUS_POINTS_SUGGESTED = 2
    for rank in (1, 2, 3):
        a_note(cast.coach, clip, text="x", rank=rank)
    found = verdict(cast, submission)
    assert found.ok
    assert found.why.startswith("3 points.")


def test_a_clip_on_its_way_is_a_hint_only(cast, submission, clip) -> None:
    a_clip(submission, state=ClipState.PROCESSING)
    a_note(cast.coach, clip, text="x", rank=1)
    found = verdict(cast, submission)
    assert (found.ok, found.why.startswith("Clip 2 is still")) == (True, True)


def test_a_broken_rep_without_its_fault_is_a_hint_only(cast, submission, clip) -> None:
    a_note(cast.coach, clip, text="x", rank=1)
    call_rep(coach=cast.coach, clip_id=clip.pk, rep=2, call="not-standard")
    found = verdict(cast, submission)
    assert (found.ok, found.why) == (True, "Rep 2 is not to standard; no fault says why.")


def test_ready(cast, submission, clip) -> None:
    a_note(cast.coach, clip, text="x", rank=1)
    assert verdict(cast, submission) == MayPublish(ok=True)


@pytest.mark.parametrize(
    ("opening", "asks"),
    [
        ("Stop pulling until your back is calm.", True),
        ("Please stop squatting and pulling for now.", True),
        ("No deadlifts this week.", True),
        ("Don\u2019t pull!", True),
        ("Stop pulling with the arms.", False),  # how, not whether
        ("Stop squatting for two weeks.", False),  # no squat is planned
        ("Strong pulling today.", False),
    ],
)
def test_stop_pulling_beside_planned_pulls_asks_about_them(
    cast, submission, clip, opening: str, asks: bool
) -> None:
    day = today_of(cast.athlete) + timedelta(days=3)
    a_plan(cast.athlete, day, (("Conventional deadlift", 3, 3, "180"),))
    a_note(cast.coach, clip, text="hips", rank=1)
    review = review_of(submission, cast.coach)
    review.reply.opening = opening
    found = may_publish(review)
    assert found.ok
    assert ("Conventional deadlift is planned on" in found.why) is asks
    if asks:
        assert long_date(day) in found.why


def test_a_point_that_says_stop_counts_and_a_held_line_does_not(cast, submission, clip) -> None:
    day = today_of(cast.athlete) + timedelta(days=3)
    plan = a_plan(cast.athlete, day, (("Conventional deadlift", 3, 3, "180"),))
    a_note(cast.coach, clip, text="Stop deadlifting for two weeks", rank=1)
    assert "\u201cStop deadlifting\u201d" in verdict(cast, submission).why
    plan.prescriptions.update(held=True)
    assert "is planned on" not in verdict(cast, submission).why


@pytest.mark.parametrize(
    ("text", "families"),
    [
        ("Skip the bench press for now", {"bench"}),
        ("Avoid all overhead pressing until Friday.", {"press"}),
        ("no squats or deadlifts", {"squat", "deadlift"}),
        ("Don't press the bar forward.", set()),
    ],
)
def test_the_lifts_that_are_to_stop(text: str, families: set[str]) -> None:
    assert {family.value for stop in stops_in([text]) for family in stop.families} == families
