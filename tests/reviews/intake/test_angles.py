"""Another angle that a coach asked for: what it opens, and what stays locked."""

import threading

import pytest
from django.db import IntegrityError, connection, transaction
from django.urls import reverse
from django.utils import timezone

from coachdesk.common.errors import Conflict
from reviews.intake import clips
from reviews.intake.angles import came, open_request, take_back
from reviews.intake.models import AngleOutcome, AngleRequest, ClipState, State, View
from tests.reviews.intake.build import played
from tests.reviews.replies.rows import a_clip, a_submission

WHY = "I cannot see your knees from the side."


@pytest.fixture
def submission(cast):
    row = a_submission(cast.athlete)
    a_clip(row)
    return row


def ask(submission, coach, view=View.FRONT, why=WHY) -> AngleRequest:
    return open_request(submission=submission, coach=coach, view=view, why=why)


def state_of(submission) -> str:
    submission.refresh_from_db()
    return submission.state


def test_it_waits_on_the_athlete_until_the_clip_plays(cast, submission) -> None:
    asked = ask(submission, cast.coach)
    assert state_of(submission) == State.WAITING_ON_ATHLETE
    clip = clips.add_clip(submission=submission, unit="kg")
    assert (clip.angle, clip.view, clip.position) == (asked, View.FRONT, 2)
    assert clip.movement == submission.clips.first().movement
    assert state_of(submission) == State.WAITING_ON_ATHLETE
    sent_at = submission.sent_at
    played(clip)
    assert state_of(submission) == State.WAITING
    assert submission.back_at is not None
    assert submission.sent_at == sent_at
    asked.refresh_from_db()
    assert asked.outcome == AngleOutcome.CAME


def test_a_clip_that_will_not_play_brings_nothing_back(cast, submission) -> None:
    ask(submission, cast.coach)
    clip = clips.add_clip(submission=submission, unit="kg")
    clip.state, clip.reason = ClipState.FAILED, "The file stops at 60%."
    clip.save()
    fresh = clips.replace_clip(clip=clip)
    assert fresh.angle_id is not None
    assert state_of(submission) == State.WAITING_ON_ATHLETE
    played(fresh)
    assert state_of(submission) == State.WAITING


def test_an_old_clip_that_plays_late_is_not_the_other_angle(cast, submission) -> None:
    late = a_clip(submission, state=ClipState.PROCESSING)
    ask(submission, cast.coach)
    played(late)
    assert state_of(submission) == State.WAITING_ON_ATHLETE


def test_a_second_clip_for_an_old_request_does_not_settle_a_new_one(cast, submission) -> None:
    ask(submission, cast.coach)
    first, second = (clips.add_clip(submission=submission, unit="kg") for _ in range(2))
    played(first)
    ask(submission, cast.coach, View.REAR)
    assert not came(clip=second)
    assert state_of(submission) == State.WAITING_ON_ATHLETE


def test_taking_it_back_puts_it_where_it_was(cast, submission) -> None:
    asked = ask(submission, cast.coach)
    assert take_back(submission=submission)
    assert not take_back(submission=submission)
    assert state_of(submission) == State.WAITING
    assert submission.back_at is None
    asked.refresh_from_db()
    assert asked.outcome == AngleOutcome.TAKEN_BACK


@pytest.mark.parametrize(
    "state", [State.DRAFT, State.ANSWERED, State.CLOSED, State.WAITING_ON_ATHLETE]
)
def test_only_what_waits_for_a_coach_can_be_asked_about(cast, state) -> None:
    row = a_submission(cast.athlete, state=state)
    with pytest.raises(Conflict):
        ask(row, cast.coach)
    assert state_of(row) == state
    assert not row.angles.exists()


def test_a_reason_is_needed(cast, submission) -> None:
    with pytest.raises(Conflict, match="Say in a sentence"):
        ask(submission, cast.coach, why="  ")


def test_the_database_keeps_one_open_request_and_its_outcome(cast, submission) -> None:
    ask(submission, cast.coach)
    facts = {"submission": submission, "asked_by": cast.coach, "view": View.SIDE, "why": WHY}
    with pytest.raises(IntegrityError), transaction.atomic():
        AngleRequest.objects.create(**facts)
    with pytest.raises(IntegrityError), transaction.atomic():
        AngleRequest.objects.create(**facts, settled_at=timezone.now())


def test_what_was_sent_stays_locked(client, cast, submission) -> None:
    client.force_login(cast.athlete)
    old = submission.clips.get()
    add = reverse("api-clips", args=[submission.pk])
    assert client.post(add).status_code == 404
    ask(submission, cast.coach)
    card = client.post(add).json()
    assert card["view"] == View.FRONT
    assert not card["locked"]
    json = {"data": {"reps": 2}, "content_type": "application/json"}
    assert client.patch(card["url"], **json).status_code == 204
    assert client.patch(reverse("api-clip", args=[old.pk]), **json).status_code == 409
    assert client.delete(reverse("api-clip", args=[old.pk])).status_code == 409
    assert client.delete(card["url"]).status_code == 204


def test_once_it_is_back_it_can_be_told_about_but_not_taken_out(client, cast, submission) -> None:
    """Notes may hang on it from then on; they would go with it."""
    client.force_login(cast.athlete)
    ask(submission, cast.coach)
    card = client.post(reverse("api-clips", args=[submission.pk])).json()
    played(submission.clips.get(pk=card["id"]))
    json = {"data": {"reps": 2}, "content_type": "application/json"}
    assert client.patch(card["url"], **json).status_code == 204
    assert client.delete(card["url"]).status_code == 409
    submission.state = State.ANSWERED
    submission.save()
    assert client.patch(card["url"], **json).status_code == 409


def test_the_page_shows_what_is_asked_and_only_that(client, cast, submission) -> None:
    client.force_login(cast.athlete)
    url = reverse("submit-draft", args=[submission.pk])
    assert client.get(url).status_code == 302
    ask(submission, cast.coach)
    page = client.get(url).content.decode()
    assert "One more clip, from the front" in page
    assert WHY in page
    assert "Send question" not in page
    assert str(submission.clips.get().pk) not in page
    assert "Add a clip" in client.get(reverse("submission", args=[submission.pk])).content.decode()
    assert WHY in client.get(reverse("athlete-home")).content.decode()


@pytest.mark.django_db(transaction=True)
def test_brought_and_taken_back_at_once_settles_once(cast) -> None:
    for _ in range(4):
        row = a_submission(cast.athlete)
        ask(row, cast.coach)
        clip = clips.add_clip(submission=row, unit="kg")
        barrier, won = threading.Barrier(2), []

        def run(deed, said, barrier=barrier, won=won) -> None:
            try:
                barrier.wait(timeout=10)
                if deed():
                    won.append(said)
            finally:
                connection.close()

        deeds = {
            AngleOutcome.CAME: lambda clip=clip: came(clip=clip),
            AngleOutcome.TAKEN_BACK: lambda row=row: take_back(submission=row),
        }
        threads = [threading.Thread(target=run, args=(deed, said)) for said, deed in deeds.items()]
        for thread in threads:
            thread.start()
        for thread in threads:
            thread.join(timeout=30)
        assert state_of(row) == State.WAITING
        assert won == [row.angles.get().outcome]
        assert (row.back_at is not None) == (won == [AngleOutcome.CAME])
