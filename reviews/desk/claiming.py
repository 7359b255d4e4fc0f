"""Taking a submission to answer it, so that two coaches never answer the same one.

There is one row per submission and it is never deleted while the submission lives: a release
only ends the lease. Every change is one conditional statement whose row count decides, which
holds on SQLite (writers wait in line) and on PostgreSQL (the row is locked until the commit).
"""

from datetime import datetime, timedelta
from uuid import UUID

from django.conf import settings
from django.db import transaction
from django.db.models import Case, F, Q, Value, When
from django.utils import timezone

from athletes.models import User
from coachdesk.common.errors import Conflict
from reviews.desk.models import Claim
from reviews.desk.queries import in_queue_order
from reviews.desk.sifting import EVERYTHING, Sifted
from reviews.intake.models import State, Submission

BEGUN = Q(handed_by=None)  # the holder has worked on it: nobody's hand-over still waits to be seen
WITH_ATHLETE = (
    "It waits on the athlete: another angle was asked for. Take that back to answer it now."
)


class ClaimedByOther(Conflict):
    """Somebody else holds the live claim; ``claim`` says who and since when."""

    def __init__(self, claim: Claim) -> None:
        self.claim = claim
        at = timezone.localtime(claim.taken_at)
        super().__init__(f"{claim.coach.first_name} claimed it at {at:%H:%M}. You can read along.")


class NotClaimed(Conflict):
    """The coach holds no live claim, and neither does anybody else."""

    def __init__(self) -> None:
        super().__init__("You have not claimed this, or your claim ran out. Claim it to go on.")


def lease_end(now: datetime) -> datetime:
    return now + timedelta(minutes=settings.CLAIM_MINUTES)


def live_claim(submission: Submission) -> Claim | None:
    """The claim that holds now, whoever has it."""
    live = Claim.objects.filter(submission=submission, until__gt=timezone.now())
    return live.select_related("coach").first()


@transaction.atomic
def claim(*, submission: Submission, coach: User, to_answer: bool = False) -> Claim:
    """Take it if it is free, lapsed or already this coach's. One transaction.

    Claiming again renews the lease and keeps the time it was taken; for one that was handed over
    the time starts with the first claim of the coach who got it. With ``to_answer`` only what waits
    can be taken: a desk that was read before another coach's answer must not reopen it.

    Raises:
        Conflict: it waits on the athlete, or (``to_answer``) was answered meanwhile.
        ClaimedByOther: another coach holds it.
    """
    _refuse_unless_open(submission, to_answer=to_answer)
    now = timezone.now()
    fresh = {"coach": coach, "taken_at": now, "until": lease_end(now)}
    row, made = Claim.objects.get_or_create(submission=submission, defaults=fresh)
    if made:
        return row
    mine = Q(coach=coach, until__gt=now)
    taken = Claim.objects.filter(Q(pk=row.pk), mine | Q(until__lte=now)).update(
        taken_at=Case(When(mine & BEGUN, then=F("taken_at")), default=Value(now)),
        coach=coach,
        until=lease_end(now),
        handed_by=None,
    )
    row = Claim.objects.select_related("coach").get(pk=row.pk)
    if not taken:
        raise ClaimedByOther(row)
    return row


def _refuse_unless_open(submission: Submission, *, to_answer: bool) -> None:
    """Hold the submission's row until the commit: its state cannot change under the claim."""
    rows = Submission.objects.select_for_update(no_key=True).filter(pk=submission.pk)
    state = rows.values_list("state", flat=True).get()
    if state == State.WAITING_ON_ATHLETE:
        raise Conflict(WITH_ATHLETE)
    if to_answer and state != State.WAITING:
        raise Conflict("It was answered meanwhile. You can read what went out.")


@transaction.atomic
def extend(*, submission: Submission, coach: User) -> Claim:
    """Keep a live claim going. One transaction.

    Inside another transaction it is also the guard of what needs a claim (publishing): until
    that one commits, nobody else can take the submission.

    Raises:
        ClaimedByOther: another coach holds it.
        NotClaimed: nobody does.
    """
    now = timezone.now()
    mine = Claim.objects.filter(submission=submission, coach=coach, until__gt=now)
    begun = Case(When(BEGUN, then=F("taken_at")), default=Value(now))
    if mine.update(until=lease_end(now), taken_at=begun, handed_by=None):
        return Claim.objects.select_related("coach").get(submission=submission)
    other = live_claim(submission)
    if other is None:
        raise NotClaimed
    raise ClaimedByOther(other)


@transaction.atomic
def release(*, submission: Submission, coach: User) -> bool:
    """Give it back. One transaction. False when this coach did not hold it."""
    now = timezone.now()
    mine = Claim.objects.filter(submission=submission, coach=coach, until__gt=now)
    return bool(mine.update(until=now))


def claim_next(*, coach: User, sifted: Sifted = EVERYTHING) -> Claim | None:
    """Take the first free one of what is looked at, in order; None when nothing is free.

    Each attempt is one transaction. One that was taken or answered in the meantime is passed over.
    """
    passed: list[UUID] = []
    while True:
        submission = in_queue_order(sifted.free(coach)).exclude(pk__in=passed).first()
        if submission is None:
            return None
        try:
            return claim(submission=submission, coach=coach, to_answer=True)
        except Conflict:
            passed.append(submission.pk)
