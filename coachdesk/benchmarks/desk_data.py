"""A club for the desk's figures: so many that wait, so many answered, with their notes."""

import random
from collections.abc import Iterator
from datetime import timedelta
from uuid import uuid4

from django.db import transaction
from django.utils import timezone

from athletes.models import Club, PainReport, User
from programming.models import Movement
from reviews.desk.models import Claim
from reviews.intake.models import Clip, Submission, Urgency
from reviews.replies.models import Note

ATHLETES = 50
NOTES = 2  # on each answered submission
BATCH = 2000
REVIEW = timedelta(minutes=7)


@transaction.atomic
def club_with(waiting: int, answered: int) -> User:
    """A coach of a club with these; drawn by a fixed seed, spread over ten days and two years."""
    chance = random.Random(1)
    club = Club.objects.create(name="Bench")
    coach, other = (
        User.objects.create_user(f"{name}@example.org", name=name, club=club, role="coach")
        for name in ("coach", "other")
    )
    athletes = [
        User.objects.create_user(f"a{n}@example.org", name=f"Athlete {n}", club=club)
        for n in range(ATHLETES)
    ]
    for size in _batches(answered):
        _answered(club, coach, [chance.choice(athletes) for _ in range(size)], chance)
    for size in _batches(waiting):
        _waiting(club, [chance.choice(athletes) for _ in range(size)], chance)
    first = Submission.objects.filter(state="waiting").order_by("urgency", "sent_at")[1]
    now = timezone.now()
    Claim.objects.create(submission=first, coach=other, taken_at=now, until=now + REVIEW * 60)
    return coach


def _batches(count: int) -> Iterator[int]:
    while count > 0:
        yield min(count, BATCH)
        count -= BATCH


def _answered(club: Club, coach: User, athletes: list[User], chance: random.Random) -> None:
    sent = [timezone.now() - timedelta(days=10, minutes=chance.randrange(10**6)) for _ in athletes]
    rows = [
        Submission(
            club=club, athlete=athlete, question="Why?", state="answered",
            sent_at=at, answered_at=at + timedelta(days=3),
        )
        for athlete, at in zip(athletes, sent, strict=True)
    ]  # fmt: skip
    clips = _with_clips(rows)
    ends = [at + timedelta(days=3) for at in sent]
    Claim.objects.bulk_create(
        Claim(submission=row, coach=coach, taken_at=end - REVIEW, until=end)
        for row, end in zip(rows, ends, strict=True)
    )
    Note.objects.bulk_create(
        Note(id=uuid4(), clip=clip, author=coach, first_frame=n, last_frame=n, text="Hips first.")
        for clip in clips
        for n in range(NOTES)
    )


def _waiting(club: Club, athletes: list[User], chance: random.Random) -> None:
    now = timezone.now()
    sore = [chance.random() < 0.2 for _ in athletes]
    reports = PainReport.objects.bulk_create(
        PainReport(athlete=athlete, where="lower back", score=3)
        for athlete, hurts in zip(athletes, sore, strict=True)
        if hurts
    )
    left = iter(reports)
    _with_clips(
        [
            Submission(
                club=club, athlete=athlete, question="Why do I tip forward?", state="waiting",
                pain=next(left) if hurts else None,
                urgency=Urgency.PAIN if hurts else Urgency.FORM,
                sent_at=now - timedelta(minutes=chance.randrange(10, 14_400)),
            )
            for athlete, hurts in zip(athletes, sore, strict=True)
        ]
    )  # fmt: skip


def _with_clips(rows: list[Submission]) -> list[Clip]:
    Submission.objects.bulk_create(rows)
    movement = Movement.objects.filter(family="squat").first()
    facts = {"movement": movement, "load_kg": 100, "reps": 3, "state": "playable", "recipe": 1}
    return Clip.objects.bulk_create(
        Clip(submission=row, frames=90, made={}, **facts) for row in rows
    )
