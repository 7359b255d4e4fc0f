"""The order of the queue, and who is in it."""

from datetime import timedelta

from django.utils import timezone

from reviews.desk.claiming import claim, claim_next, release
from reviews.desk.models import Claim
from reviews.desk.queries import Section, free_for, in_queue_order, waiting_for
from reviews.intake.models import State


def order(coach) -> list[str]:
    return [row.question for row in in_queue_order(waiting_for(coach))]


def test_signs_then_pain_then_due_then_the_oldest(cast, waiting, settings) -> None:
    settings.OVERDUE_DAYS = 5
    before = waiting(question="earlier", state=State.ANSWERED)
    waiting(question="new", days=1)
    waiting(question="old", days=3)
    waiting(question="overdue", days=6)
    waiting(question="check-back", days=0.1, check_back_of=before)
    waiting(question="newer pain", days=1, pain=2)
    waiting(question="older pain", days=2, pain=9)
    waiting(question="warning sign", days=0, signs=("saddle",))
    assert order(cast.coach) == [
        "warning sign",
        "older pain",
        "newer pain",
        "overdue",
        "check-back",
        "old",
        "new",
    ]
    sections = [row.section for row in in_queue_order(waiting_for(cast.coach))]
    assert sections == [Section.FIRST] * 3 + [Section.DUE] * 2 + [Section.THEN] * 2


def test_only_what_waits_in_this_club(cast, waiting) -> None:
    for state in (State.ANSWERED, State.CLOSED, State.WAITING_ON_ATHLETE, State.DRAFT):
        waiting(state=state)
    waiting(cast.outsider, question="elsewhere")
    waiting(question="here")
    assert order(cast.coach) == ["here"]
    assert order(cast.stranger) == ["elsewhere"]
    assert order(cast.athlete) == []


def test_what_another_coach_holds_is_not_free(cast, waiting) -> None:
    held, mine, lapsed, free = (waiting(question=q) for q in ("held", "mine", "lapsed", "free"))
    claim(submission=held, coach=cast.second_coach)
    claim(submission=mine, coach=cast.coach)
    claim(submission=lapsed, coach=cast.second_coach)
    Claim.objects.filter(submission=lapsed).update(until=timezone.now() - timedelta(seconds=1))
    assert set(free_for(cast.coach)) == {mine, lapsed, free}


def test_next_takes_the_first_free_one(cast, waiting) -> None:
    newer, older = waiting(days=1), waiting(days=2)
    first = claim_next(coach=cast.coach)
    assert first is not None
    assert first.submission == older
    second = claim_next(coach=cast.second_coach)
    assert second is not None
    assert second.submission == newer
    assert claim_next(coach=cast.owner) is None
    release(submission=older, coach=cast.coach)
    again = claim_next(coach=cast.owner)
    assert again is not None
    assert again.submission == older


def test_next_passes_over_what_was_taken_meanwhile(cast, waiting, monkeypatch) -> None:
    newer, older = waiting(days=1), waiting(days=2)
    claim(submission=older, coach=cast.second_coach)
    # The queue was read before the other coach's claim: everything still looks free.
    monkeypatch.setattr("reviews.desk.sifting.free_for", waiting_for)
    taken = claim_next(coach=cast.coach)
    assert taken is not None
    assert taken.submission == newer
