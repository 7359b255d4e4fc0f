"""Handing a claim to another coach of the club, who then holds it: never both, never neither."""

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from athletes.models import User
from athletes.permissions import coaches_of
from coachdesk.common.errors import Invalid
from reviews.desk.claiming import lease_end
from reviews.desk.models import Claim
from reviews.intake.models import Submission, Urgency

KEPT = timedelta(hours=24)  # the other coach may sit down only tomorrow evening


def hands_to(submission: Submission, holder: User) -> list[User]:
    """The other coaches of the club, by name."""
    return list(coaches_of(submission.club).exclude(pk=holder.pk).order_by("name"))


def may_hand(claim: Claim | None, by: User) -> bool:
    """The holder, or an owner of the club when the holder is not there to do it."""
    return claim is not None and (claim.coach_id == by.pk or by.is_owner)


@transaction.atomic
def hand_over(*, submission: Submission, holder: User, to: User, by: User) -> Claim:
    """Give the live claim of ``holder`` to ``to``. One transaction, one conditional statement.

    The other coach need not be at the desk: it is kept for them, except pain, which must not lie
    in the hands of somebody who is not here.

    Raises:
        Invalid: ``by`` may not do that, ``to`` does not coach here or has it already, or the
            holder does not hold it any more.
    """
    if by.pk != holder.pk and not by.is_owner:
        raise Invalid("Only the coach who has it, or an owner, can hand it over.")
    if to.pk == holder.pk or not coaches_of(submission.club).filter(pk=to.pk).exists():
        raise Invalid("Choose another coach of this club.")
    # Wait for whoever is answering it, then look at the clock: a time read before the wait would
    # take a claim that has just been given back for a live one.
    list(Claim.objects.select_for_update().filter(submission=submission))
    now = timezone.now()
    until = now + KEPT if submission.urgency == Urgency.FORM else lease_end(now)
    held = Claim.objects.filter(submission=submission, coach=holder, until__gt=now)
    if not held.update(coach=to, taken_at=now, until=until, handed_by=by):
        raise Invalid(f"{holder.first_name} does not have it any more. Nothing was changed.")
    return Claim.objects.select_related("coach").get(submission=submission)
