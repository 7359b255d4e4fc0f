"""What an owner may change about somebody: role, main coach, and whether they may sign in.

A club always keeps an active owner. Each public function is one transaction, and holds the club's
row while it runs, so that two owners cannot remove each other at the same moment.
"""

from allauth.usersessions.models import UserSession
from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.dispatch import Signal
from django.utils.timezone import now

from athletes.models import Club, Invitation, Role, User
from athletes.permissions import coaches_of, people_manageable_by
from coachdesk.common.errors import Conflict

# For the apps that athletes must not know of: ``person`` no longer coaches in their club. Sent
# inside the transaction that ends it.
coach_left = Signal()
NO_OWNER = "A club keeps at least one owner. Make somebody else an owner first."


@transaction.atomic
def assign_role(*, by: User, person: User, role: str, main_coach: User | None) -> User:
    """Give somebody a role and, for an athlete, a main coach.

    Raises PermissionDenied for anybody but an owner of the same club, and for a main coach who
    does not coach there; Conflict when no owner would be left.
    """
    person = _held(by, person)
    if role not in Role.values:
        raise PermissionDenied
    if person.is_owner and role != Role.OWNER:
        _refuse_without_owner(person)
    if role != Role.ATHLETE:
        main_coach = None
    elif main_coach is not None:
        here = coaches_of(person.club).exclude(pk=person.pk)
        if not here.filter(pk=main_coach.pk).exists():
            raise PermissionDenied
    person.role, person.main_coach = role, main_coach
    person.save(update_fields=["role", "main_coach"])
    if not person.is_coach:
        _leave_desk(person)
    return person


@transaction.atomic
def deactivate(*, by: User, person: User) -> None:
    """Close somebody's account: their sessions end now, their records stay."""
    person = _held(by, person)
    if person.is_owner:
        _refuse_without_owner(person)
    person.is_active = False
    person.save(update_fields=["is_active"])
    for session in UserSession.objects.filter(user=person):
        session.end()
    _leave_desk(person)


@transaction.atomic
def reactivate(*, by: User, person: User) -> None:
    """Let somebody who was deactivated sign in again."""
    person = _held(by, person)
    person.is_active = True
    person.save(update_fields=["is_active"])


def _held(by: User, person: User) -> User:
    Club.objects.select_for_update().get(pk=by.club_id)
    by.refresh_from_db()
    found = people_manageable_by(by).filter(pk=person.pk).first()
    if found is None or not by.is_active:
        raise PermissionDenied
    return found


def _refuse_without_owner(person: User) -> None:
    owners = User.objects.filter(club_id=person.club_id, role=Role.OWNER, is_active=True)
    if not owners.exclude(pk=person.pk).exists():
        raise Conflict(NO_OWNER)


def _leave_desk(person: User) -> None:
    """Nobody stays the athlete of a coach who is gone, their open invitations close, and what they
    had taken from the desk is free again."""
    User.objects.filter(main_coach=person).update(main_coach=None)
    Invitation.objects.filter(invited_by=person).pending().update(withdrawn_at=now())
    coach_left.send(sender=User, person=person)
