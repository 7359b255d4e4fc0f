"""Asking for another angle from the workbench: the claim, the mail, and what is refused."""

import re

import pytest
from django.urls import reverse

from coachdesk.common.errors import Conflict
from reviews.desk.claiming import (
    ClaimedByOther,
    NotClaimed,
    claim,
    claim_next,
    live_claim,
)
from reviews.intake.angles import open_angle, take_back
from reviews.intake.clips import add_clip
from reviews.intake.models import State, View
from reviews.replies.readiness import may_publish
from reviews.replies.selectors.reviews import review_of
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.request_angle import request_angle
from reviews.replies.services.save_reply import save_reply
from tests.conftest import mails
from tests.reviews.intake.build import played
from tests.reviews.replies.rows import a_clip, a_submission

WHY = "I cannot see your knees from the side."


@pytest.fixture
def submission(cast):
    row = a_submission(cast.athlete)
    a_clip(row)
    return row


def ask(coach, submission):
    return request_angle(coach=coach, submission=submission, view=View.FRONT, why=WHY)


def test_the_claim_is_given_back_and_nobody_claims_it(cast, submission) -> None:
    claim(submission=submission, coach=cast.coach)
    ask(cast.coach, submission)
    assert live_claim(submission) is None
    for coach in (cast.coach, cast.second_coach):
        with pytest.raises(Conflict, match="another angle was asked for"):
            claim(submission=submission, coach=coach)
    assert claim_next(coach=cast.coach) is None
    assert take_back(submission=submission)
    assert claim(submission=submission, coach=cast.second_coach).coach == cast.second_coach


def test_not_while_another_coach_answers_it(cast, submission) -> None:
    claim(submission=submission, coach=cast.second_coach)
    with pytest.raises(ClaimedByOther):
        ask(cast.coach, submission)
    submission.refresh_from_db()
    assert submission.state == State.WAITING
    assert open_angle(submission) is None


def test_an_answer_needs_the_request_taken_back(cast, submission) -> None:
    claim(submission=submission, coach=cast.coach)
    save_reply(coach=cast.coach, submission_id=submission.pk, fields={"opening": "Strong."})
    ask(cast.coach, submission)
    submission.refresh_from_db()
    verdict = may_publish(review_of(submission, cast.coach))
    assert not verdict.ok
    assert "Take that back" in verdict.why
    with pytest.raises(NotClaimed):
        publish_reply(coach=cast.coach, submission_id=submission.pk)
    submission.refresh_from_db()
    assert submission.state == State.WAITING_ON_ATHLETE
    take_back(submission=submission)
    claim(submission=submission, coach=cast.coach)
    assert publish_reply(coach=cast.coach, submission_id=submission.pk).number == 1


def test_the_athlete_is_told_once(cast, submission) -> None:
    ask(cast.coach, submission)
    mails()
    (told,) = mails()
    assert told.to == [cast.athlete.email]
    assert told.subject == "Tove Lindqvist asks for another angle"
    assert f"Why: {WHY}" in told.body
    assert reverse("submission", args=[submission.pk]) in told.body


def test_what_was_taken_back_is_not_mailed(cast, submission) -> None:
    ask(cast.coach, submission)
    take_back(submission=submission)
    assert not mails()


def test_the_page_asks_says_what_is_missing_and_takes_back(client, cast, submission) -> None:
    client.force_login(cast.coach)
    url = reverse("workbench-angle", args=[submission.pk])
    page = client.get(url).content.decode()
    assert "clip 1 is from there" in page
    answer = client.post(url, {"why": ""})
    assert answer.status_code == 422
    assert "Choose where the camera should stand." in answer.content.decode()
    assert client.post(url, {"view": "front", "why": WHY}).headers["Location"] == reverse("desk")
    assert WHY in client.get(url).content.decode()
    assert client.post(url, {"view": "side", "why": WHY}).status_code == 422
    back = reverse("workbench-angle-back", args=[submission.pk])
    assert client.post(back).status_code == 302
    assert open_angle(submission) is None


def test_the_desk_marks_what_came_back_and_puts_it_among_what_is_due(
    client, cast, submission
) -> None:
    later = a_submission(cast.other_athlete, question="Later")
    ask(cast.coach, submission)
    played(add_clip(submission=submission, unit="kg"))
    client.force_login(cast.coach)
    page = client.get(reverse("desk")).content.decode()
    assert re.search(r"Back with another angle, front.*Tove asked", page, re.S)
    due = page.index("<h2>Due</h2>")
    assert due < page.index(submission.athlete.name) < page.index("<h2>Then</h2>")
    assert page.index("<h2>Then</h2>") < page.index(later.question)
