"""Inviting, withdrawing and accepting: the only way into a club.

The token leaves this module once, inside a link; only its SHA-256 digest is stored, so a leaked
database opens no door. Each public function is one transaction.
"""

import secrets
from datetime import datetime, timedelta

from django.conf import settings
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, transaction
from django.template.loader import render_to_string
from django.utils.timezone import now

from athletes.mail.services import enqueue_text, leaves_this_machine, mail_is_stuck
from athletes.models import Club, Invitation, Role, Unit, User
from athletes.permissions import coaches_of, invitations_visible_to, roles_invitable_by
from coachdesk.common.digests import digest_of
from coachdesk.common.errors import Conflict
from coachdesk.common.public_url import absolute_url
from coachdesk.common.validators import validate_name


class InvitationClosed(Conflict):
    """The invitation was used, withdrawn or has expired, or never was."""


class AddressTaken(Conflict):
    """Somebody with this address joined in the meantime."""


def invitation_behind(token: str) -> Invitation | None:
    """The invitation a link belongs to, in whatever state it is."""
    invitations = Invitation.objects.select_related("club", "invited_by")
    return invitations.filter(token_digest=digest_of(token)).first()


@transaction.atomic
def invite(
    *, by: User, email: str, role: str, coach: User | None = None, name: str = ""
) -> tuple[Invitation, str]:
    """Open a new invitation and return it with its token; an older one to the same address closes.

    Raises PermissionDenied when `by` may not give that role or name that coach, Conflict when
    the address has an account.
    """
    if role not in roles_invitable_by(by):
        raise PermissionDenied
    if role != Role.ATHLETE:
        coach = None
    elif coach is not None and not coaches_of(by.club).filter(pk=coach.pk).exists():
        raise PermissionDenied
    return _open(club=by.club, email=email, role=role, coach=coach, name=name, by=by)


@transaction.atomic
def found_club(*, club_name: str, email: str, name: str) -> tuple[Invitation, str]:
    """Start a club and open the invitation of its first owner."""
    validate_name(club_name)
    validate_name(name)
    club = Club.objects.create(name=club_name)
    return _open(club=club, email=email, role=Role.OWNER, coach=None, name=name, by=None)


def _open(
    *, club: Club, email: str, role: str, coach: User | None, name: str, by: User | None
) -> tuple[Invitation, str]:
    Club.objects.select_for_update().get(pk=club.pk)  # two invitations at once queue up here
    email = email.strip().lower()
    if User.objects.filter(email__iexact=email).exists():
        raise Conflict(f"{email} already has an account here.")
    moment = now()
    Invitation.objects.filter(club=club, email=email).pending().update(withdrawn_at=moment)
    token = secrets.token_urlsafe(32)
    invitation = Invitation.objects.create(
        club=club,
        email=email,
        name=name.strip(),
        role=role,
        coach=coach,
        token_digest=digest_of(token),
        invited_by=by,
        invited_at=moment,
        expires_at=moment + timedelta(days=settings.INVITATION_DAYS),
    )
    return invitation, token


@transaction.atomic
def withdraw(*, by: User, invitation: int) -> bool:
    """Close an open invitation for good; False when it was no longer open."""
    mine = invitations_visible_to(by).filter(pk=invitation)
    return bool(mine.pending().update(withdrawn_at=now()))


@transaction.atomic
def accept(*, token: str, name: str, password: str, unit: str = Unit.KG, timezone: str) -> User:
    """Make the account an invitation is for. Two clicks at once make one account.

    Raises InvitationClosed, or AddressTaken when the address got an account some other way; then
    the invitation stays open, because the transaction is undone.
    """
    invitation = _take(digest_of(token), now())
    coach = invitation.coach
    if coach is not None and not coaches_of(invitation.club).filter(pk=coach.pk).exists():
        coach = None  # left the desk since; an owner names another
    try:
        with transaction.atomic():
            person = User.objects.create_user(
                invitation.email,
                password,
                name=name,
                club=invitation.club,
                role=invitation.role,
                main_coach=coach,
                unit=unit,
                timezone=timezone,
            )
    except IntegrityError as error:
        raise AddressTaken from error
    Invitation.objects.filter(pk=invitation.pk).update(accepted_by=person)
    return person


def _take(digest: str, moment: datetime) -> Invitation:
    """One conditional UPDATE decides who of several callers gets the invitation."""
    here = Invitation.objects.filter(token_digest=digest)
    if not here.pending().filter(expires_at__gt=moment).update(accepted_at=moment):
        raise InvitationClosed
    return here.select_related("club", "coach").get()


def join_link(token: str) -> str:
    return absolute_url("join", token=token)


def send_invitation(invitation: Invitation, link: str) -> bool:
    """Send the link to the address. False when it stays on this machine, or waits behind others for
    a mail server that is in trouble: then the page shows the link itself."""
    facts = {"invitation": invitation, "link": link}
    subject = render_to_string("athletes/mail/invitation_subject.txt", facts)
    counted_on = leaves_this_machine() and not mail_is_stuck()
    enqueue_text(
        to=invitation.email,
        subject=" ".join(subject.split()),
        body=render_to_string("athletes/mail/invitation.txt", facts),
        expires_at=invitation.expires_at,
    )
    return counted_on
