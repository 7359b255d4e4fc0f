"""A coach's account is closed: the owner hears who is left alone, the athletes read a plain word,
and what they ask lies where somebody sees it."""

import pytest
from django.test import Client
from django.urls import reverse

from athletes.models import User
from athletes.services.membership import assign_role, deactivate
from reviews.desk.claiming import claim, live_claim
from reviews.desk.handing import hand_over
from reviews.replies.services.send_message import send_message
from tests.conftest import Cast, mails
from tests.reviews.replies.rows import a_clip, a_submission, an_answer

pytestmark = pytest.mark.django_db
WORD = "You have no main coach at the moment."


@pytest.fixture
def cast(cast: Cast) -> Cast:
    User.objects.filter(pk=cast.athlete.pk).update(main_coach=cast.coach)
    cast.athlete.refresh_from_db()
    return cast


def page(client: Client, who: User, name: str, *args: object) -> str:
    client.force_login(who)
    return client.get(reverse(name, args=args), follow=True).content.decode()


def test_the_owner_is_told_who_has_nobody_now(client: Client, cast: Cast) -> None:
    client.force_login(cast.owner)
    answer = client.post(reverse("person-deactivate", args=[cast.coach.pk]), follow=True)
    message = answer.content.decode().split("Without a main coach now: ")[1].split(".")[0]
    assert cast.athlete.name in message
    people = page(client, cast.owner, "people")
    assert "Without a main coach:" in people
    assert reverse("person", args=[cast.athlete.pk]) in people
    assert "Without a main coach:" not in page(client, cast.second_coach, "people")


def test_the_athlete_reads_a_plain_word(client: Client, cast: Cast) -> None:
    assert WORD not in page(client, cast.athlete, "athlete-home")
    deactivate(by=cast.owner, person=cast.coach)
    assert WORD in page(client, cast.athlete, "athlete-home")
    assert "every coach of the club sees what you send" in page(client, cast.athlete, "profile")


def test_so_it_is_where_the_account_was_closed_in_the_admin(client: Client, cast: Cast) -> None:
    User.objects.filter(pk=cast.coach.pk).update(is_active=False)
    assert WORD in page(client, cast.athlete, "athlete-home")
    assert cast.athlete.name in page(client, cast.owner, "people").split("Without a main coach:")[1]


def test_their_questions_wait_for_every_coach(client: Client, cast: Cast) -> None:
    a_clip(a_submission(cast.athlete))
    assert "without a main coach. " not in page(client, cast.second_coach, "desk")
    deactivate(by=cast.owner, person=cast.coach)
    desk = page(client, cast.second_coach, "desk")
    assert "1 of them comes from athletes without a main coach." in desk
    client.force_login(cast.second_coach)
    alone = client.get(reverse("desk"), {"whose": "no-coach"}).content.decode()
    assert cast.athlete.name in alone


def test_what_they_held_is_free_at_once(cast: Cast) -> None:
    """Also what was handed to them, which would have been kept for days."""
    one, other = a_submission(cast.athlete), a_submission(cast.athlete)
    claim(submission=one, coach=cast.coach)
    claim(submission=other, coach=cast.second_coach)
    hand_over(submission=other, holder=cast.second_coach, to=cast.coach, by=cast.second_coach)
    assign_role(by=cast.owner, person=cast.coach, role="athlete", main_coach=None)
    assert live_claim(one) is live_claim(other) is None
    assert claim(submission=other, coach=cast.second_coach).coach == cast.second_coach


def test_a_question_below_their_reply_is_mailed_to_somebody_who_is_here(cast: Cast) -> None:
    submission = a_submission(cast.athlete)
    a_clip(submission)
    an_answer(cast.coach, submission)
    deactivate(by=cast.owner, person=cast.coach)
    before = len(mails())
    send_message(author=cast.athlete, submission=submission, text="And the bar?")
    assert [sent.to for sent in mails()[before:]] == [[cast.owner.email]]
