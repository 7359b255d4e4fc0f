"""One live claim per submission, whatever two coaches do at the same moment."""

import threading
from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone

from reviews.desk.claiming import (
    ClaimedByOther,
    NotClaimed,
    claim,
    extend,
    live_claim,
    release,
)
from reviews.desk.models import Claim


def lapse(submission) -> None:
    Claim.objects.filter(submission=submission).update(until=timezone.now() - timedelta(seconds=1))


def test_a_free_one_is_taken_for_the_lease(cast, waiting, settings) -> None:
    settings.CLAIM_MINUTES = 30
    submission = waiting()
    taken = claim(submission=submission, coach=cast.coach)
    assert taken.until - taken.taken_at == timedelta(minutes=30)
    assert live_claim(submission) == taken


def test_another_coach_is_told_who_and_when(cast, waiting) -> None:
    submission = waiting()
    taken = claim(submission=submission, coach=cast.coach)
    with timezone.override("Europe/Oslo"):
        at = timezone.localtime(taken.taken_at).strftime("%H:%M")
        with pytest.raises(ClaimedByOther) as refused:
            claim(submission=submission, coach=cast.second_coach)
    assert str(refused.value) == f"Tove claimed it at {at}. You can read along."
    assert refused.value.claim == taken


def test_claiming_again_renews_and_keeps_the_time_it_was_taken(cast, waiting) -> None:
    submission = waiting()
    first = claim(submission=submission, coach=cast.coach)
    again = claim(submission=submission, coach=cast.coach)
    assert again.pk == first.pk
    assert again.taken_at == first.taken_at
    assert again.until > first.until


def test_a_lapsed_one_is_free_and_the_time_starts_anew(cast, waiting) -> None:
    submission = waiting()
    first = claim(submission=submission, coach=cast.coach)
    lapse(submission)
    assert live_claim(submission) is None
    taken = claim(submission=submission, coach=cast.second_coach)
    assert taken.coach == cast.second_coach
    assert taken.taken_at > first.taken_at
    assert Claim.objects.filter(submission=submission).count() == 1


def test_extending_needs_a_live_claim_of_ones_own(cast, waiting) -> None:
    submission = waiting()
    with pytest.raises(NotClaimed):
        extend(submission=submission, coach=cast.coach)
    first = claim(submission=submission, coach=cast.coach)
    assert extend(submission=submission, coach=cast.coach).until > first.until
    with pytest.raises(ClaimedByOther):
        extend(submission=submission, coach=cast.second_coach)
    lapse(submission)
    with pytest.raises(NotClaimed):
        extend(submission=submission, coach=cast.coach)


def test_only_the_holder_releases(cast, waiting) -> None:
    submission = waiting()
    claim(submission=submission, coach=cast.coach)
    assert not release(submission=submission, coach=cast.second_coach)
    assert live_claim(submission) is not None
    assert release(submission=submission, coach=cast.coach)
    assert live_claim(submission) is None
    assert claim(submission=submission, coach=cast.second_coach).coach == cast.second_coach


def race(submission, coaches) -> list[str]:
    """Everybody claims at once, each on a connection of their own."""
    barrier = threading.Barrier(len(coaches))
    said: list[str] = []

    def reach(coach) -> None:
        try:
            barrier.wait(timeout=10)
            claim(submission=submission, coach=coach)
            said.append(coach.name)
        except ClaimedByOther:
            said.append("refused")
        finally:
            connection.close()

    threads = [threading.Thread(target=reach, args=(coach,)) for coach in coaches]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    return said


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("state", ["never claimed", "lapsed"])
def test_of_many_at_once_one_gets_it(cast, waiting, state: str) -> None:
    coaches = [cast.owner, cast.coach, cast.second_coach] * 2
    for _ in range(5):
        submission = waiting()
        if state == "lapsed":
            claim(submission=submission, coach=cast.coach)
            lapse(submission)
        said = race(submission, coaches)
        assert len(said) == len(coaches)
        winners = {name for name in said if name != "refused"}
        assert winners == {Claim.objects.get(submission=submission).coach.name}
