"""Handing a claim over: one coach has it, whatever two do at the same moment."""

import threading
from datetime import timedelta

import pytest
from django.db import connection
from django.urls import reverse
from django.utils import timezone

from coachdesk.common.errors import Invalid
from reviews.desk.claiming import ClaimedByOther, NotClaimed, claim, extend, live_claim, release
from reviews.desk.evening import evening_of
from reviews.desk.handing import hand_over, may_hand
from reviews.desk.models import Claim
from reviews.intake.models import State
from reviews.replies.models import ReplyVersion
from reviews.replies.services.publish_reply import publish_reply
from reviews.replies.services.save_reply import save_reply

pytestmark = pytest.mark.filterwarnings("ignore:No directory at")


@pytest.fixture
def held(cast, waiting):
    submission = waiting()
    claim(submission=submission, coach=cast.coach)
    return submission


def handed(submission, cast, **who) -> Claim:
    usual = {"holder": cast.coach, "to": cast.second_coach, "by": cast.coach}
    return hand_over(submission=submission, **{**usual, **who})


def test_the_other_coach_has_it_for_a_day(cast, held) -> None:
    row = handed(held, cast)
    assert live_claim(held) == row
    assert (row.coach, row.handed_by) == (cast.second_coach, cast.coach)
    assert row.until - row.taken_at == timedelta(hours=24)
    with pytest.raises(ClaimedByOther):
        extend(submission=held, coach=cast.coach)


def test_pain_is_kept_no_longer_than_any_claim(cast, waiting, settings) -> None:
    settings.CLAIM_MINUTES = 30
    submission = waiting(pain=3)
    claim(submission=submission, coach=cast.coach)
    row = handed(submission, cast)
    assert row.until - row.taken_at == timedelta(minutes=30)


@pytest.mark.parametrize("begin", [claim, extend])
def test_the_time_counts_from_when_the_other_begins(cast, held, settings, begin) -> None:
    settings.CLAIM_MINUTES = 30
    handed(held, cast)
    Claim.objects.update(taken_at=timezone.now() - timedelta(hours=20))
    row = begin(submission=held, coach=cast.second_coach)
    assert row.handed_by is None
    assert timezone.now() - row.taken_at < timedelta(minutes=1)
    assert row.until - row.taken_at == timedelta(minutes=30)


def test_an_owner_hands_over_for_somebody_who_is_away(cast, held) -> None:
    assert may_hand(live_claim(held), cast.owner)
    assert handed(held, cast, by=cast.owner, to=cast.owner).coach == cast.owner


@pytest.mark.parametrize(
    ("who", "words"),
    [
        ({"by": "second_coach"}, "Only the coach who has it"),
        ({"to": "coach"}, "Choose another coach"),
        ({"to": "athlete"}, "Choose another coach"),
        ({"to": "stranger"}, "Choose another coach"),
        ({"holder": "second_coach", "by": "owner", "to": "owner"}, "Bram does not have it"),
    ],
)
def test_what_is_refused_changes_nothing(cast, held, who, words) -> None:
    before = live_claim(held)
    with pytest.raises(Invalid, match=words):
        handed(held, cast, **{key: getattr(cast, name) for key, name in who.items()})
    after = live_claim(held)
    assert (after.coach, after.until) == (before.coach, before.until)


def test_a_claim_that_ran_out_or_was_given_back_cannot_be_handed(cast, held) -> None:
    release(submission=held, coach=cast.coach)
    with pytest.raises(Invalid, match="Tove does not have it any more"):
        handed(held, cast)
    assert live_claim(held) is None


def test_the_receiver_sees_from_whom_until_they_begin(client, cast, held) -> None:
    handed(held, cast)
    client.force_login(cast.second_coach)
    page = client.get(reverse("desk")).content.decode()
    assert "Handed to you" in page
    assert "From Tove, kept for you until" in page
    client.post(reverse("desk-claim", args=[held.pk]))
    page = client.get(reverse("desk")).content.decode()
    assert "Handed to you" not in page
    assert "In your hands since" in page
    assert evening_of(cast.coach, tonight=90).handed == []


def test_others_see_who_has_it_and_from_whom(client, cast, held) -> None:
    handed(held, cast)
    client.force_login(cast.coach)
    page = client.get(reverse("desk")).content.decode()
    assert "Bram has it from Tove, since" in page
    assert reverse("desk-hand", args=[held.pk]) not in page, "it is not Tove's to hand on"
    client.force_login(cast.owner)
    assert reverse("desk-hand", args=[held.pk]) in client.get(reverse("desk")).content.decode()


def test_the_page_hands_it_over_and_says_so(client, cast, held) -> None:
    client.force_login(cast.coach)
    url = reverse("desk-hand", args=[held.pk])
    page = client.get(url).content.decode()
    assert "Bram Castel" in page
    assert "Tove Lindqvist</b>" not in page, "the holder is not offered"
    data = {"holder": cast.coach.pk, "to": cast.second_coach.pk}
    page = client.post(url, data, follow=True).content.decode()
    assert "Mira Solheim is now with Bram Castel." in page
    again = client.post(url, data)
    assert again.status_code == 422
    assert "Tove does not have it any more" in again.content.decode()
    assert "Bram Castel has it." in client.get(url).content.decode()


def test_nobody_chosen_is_said(client, cast, held) -> None:
    client.force_login(cast.coach)
    url = reverse("desk-hand", args=[held.pk])
    answer = client.post(url, {"holder": cast.coach.pk})
    assert answer.status_code == 422
    assert "Choose who gets it." in answer.content.decode()
    assert live_claim(held).coach == cast.coach


def at_once(*works) -> list[str]:
    """Everything at the same moment, each on a connection of its own; what each came to."""
    barrier = threading.Barrier(len(works))
    said = [""] * len(works)

    def run(at: int) -> None:
        try:
            barrier.wait(timeout=10)
            works[at]()
            said[at] = "done"
        except (Invalid, ClaimedByOther, NotClaimed) as refused:
            said[at] = type(refused).__name__
        finally:
            connection.close()

    threads = [threading.Thread(target=run, args=(at,)) for at in range(len(works))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    return said


@pytest.mark.django_db(transaction=True)
def test_handed_to_two_at_once_goes_to_one(cast, waiting) -> None:
    for _ in range(3):
        submission = waiting()
        claim(submission=submission, coach=cast.coach)
        said = at_once(
            lambda row=submission: handed(row, cast),
            lambda row=submission: handed(row, cast, to=cast.owner, by=cast.owner),
        )
        assert sorted(said) == ["Invalid", "done"]
        winner = [cast.second_coach, cast.owner][said.index("done")]
        assert live_claim(submission).coach == winner


@pytest.mark.django_db(transaction=True)
def test_handed_over_while_it_is_answered_is_one_or_the_other(cast, waiting) -> None:
    for _ in range(3):
        submission = waiting(clips=0)
        claim(submission=submission, coach=cast.coach)
        fields = {"opening": "Three strong reps."}
        save_reply(coach=cast.coach, submission_id=submission.pk, fields=fields)
        said = at_once(
            lambda row=submission: handed(row, cast),
            lambda row=submission: publish_reply(coach=cast.coach, submission_id=row.pk),
        )
        submission.refresh_from_db()
        sent = ReplyVersion.objects.filter(reply__submission=submission).count()
        if said == ["done", "ClaimedByOther"]:
            assert (submission.state, sent) == (State.WAITING, 0)
            assert live_claim(submission).coach == cast.second_coach
        else:
            assert said == ["Invalid", "done"]
            assert (submission.state, sent) == (State.ANSWERED, 1)
            assert live_claim(submission) is None
