"""Joining is by invitation: single use, expiring, and never more than one account."""

import hashlib
import threading
from datetime import timedelta

import pytest
from allauth.account.models import EmailAddress
from django.core.exceptions import PermissionDenied
from django.db import IntegrityError, connection
from django.utils.timezone import now

from athletes.models import Club, Invitation, Role, User
from athletes.services import invitations
from coachdesk.common.errors import Conflict
from tests.conftest import Cast

JOINS = {"name": "New Person", "password": "chalk and iron", "timezone": "Europe/Oslo"}


def open_one(cast: Cast, **changes: object) -> tuple[Invitation, str]:
    facts = {"by": cast.coach, "email": "new@example.org", "role": Role.ATHLETE}
    return invitations.invite(**{**facts, "coach": cast.coach, **changes})


def test_only_the_digest_of_the_token_is_kept(cast: Cast) -> None:
    invitation, token = open_one(cast)
    stored = {str(value) for value in Invitation.objects.values().get(pk=invitation.pk).values()}
    assert token not in " ".join(stored)
    # FIPS 180-4 by Python's hashlib, the reference here.
    assert hashlib.sha256(token.encode()).hexdigest() in stored


def test_role_and_coach_travel_in_the_invitation(cast: Cast) -> None:
    _, token = open_one(cast, email=" New@Example.org ")
    person = invitations.accept(token=token, **JOINS)
    assert (person.role, person.main_coach, person.club) == (
        Role.ATHLETE,
        cast.coach,
        cast.coach.club,
    )
    assert person.email == "new@example.org"
    assert person.check_password(JOINS["password"])
    address = EmailAddress.objects.get(user=person)
    assert (address.email, address.verified, address.primary) == ("new@example.org", True, True)


def test_a_used_link_is_used(cast: Cast) -> None:
    _, token = open_one(cast)
    invitations.accept(token=token, **JOINS)
    with pytest.raises(invitations.InvitationClosed):
        invitations.accept(token=token, **JOINS)


def test_an_expired_link_makes_nobody(cast: Cast) -> None:
    invitation, token = open_one(cast)
    Invitation.objects.filter(pk=invitation.pk).update(expires_at=now() - timedelta(seconds=1))
    with pytest.raises(invitations.InvitationClosed):
        invitations.accept(token=token, **JOINS)
    assert not User.objects.filter(email="new@example.org").exists()


def test_a_withdrawn_link_makes_nobody(cast: Cast) -> None:
    invitation, token = open_one(cast)
    assert invitations.withdraw(by=cast.coach, invitation=invitation.pk)
    assert not invitations.withdraw(by=cast.coach, invitation=invitation.pk)
    with pytest.raises(invitations.InvitationClosed):
        invitations.accept(token=token, **JOINS)


def test_an_accepted_invitation_cannot_be_withdrawn(cast: Cast) -> None:
    invitation, token = open_one(cast)
    invitations.accept(token=token, **JOINS)
    assert not invitations.withdraw(by=cast.coach, invitation=invitation.pk)


def test_inviting_again_closes_the_older_link(cast: Cast) -> None:
    _, older = open_one(cast)
    _, newer = open_one(cast)
    with pytest.raises(invitations.InvitationClosed):
        invitations.accept(token=older, **JOINS)
    assert invitations.accept(token=newer, **JOINS).email == "new@example.org"


def test_an_address_with_an_account_is_not_invited(cast: Cast) -> None:
    with pytest.raises(Conflict, match="already has an account"):
        open_one(cast, email=cast.athlete.email.upper())


def test_an_account_made_in_the_meantime_leaves_the_invitation_open(cast: Cast) -> None:
    invitation, token = open_one(cast)
    User.objects.create_user("new@example.org", None, name="Someone", club=cast.coach.club)
    with pytest.raises(invitations.AddressTaken):
        invitations.accept(token=token, **JOINS)
    invitation.refresh_from_db()
    assert invitation.state == "open"


@pytest.mark.parametrize(
    ("who", "role"),
    [
        ("coach", Role.COACH),
        ("coach", Role.OWNER),
        ("athlete", Role.ATHLETE),
        ("athlete", Role.COACH),
    ],
)
def test_nobody_invites_above_their_place(cast: Cast, who: str, role: Role) -> None:
    with pytest.raises(PermissionDenied):
        open_one(cast, by=getattr(cast, who), role=role)


@pytest.mark.parametrize("who", ["stranger", "other_athlete"])
def test_the_main_coach_coaches_in_this_club(cast: Cast, who: str) -> None:
    with pytest.raises(PermissionDenied):
        open_one(cast, coach=getattr(cast, who))


def test_a_coach_who_left_is_nobodys_main_coach(cast: Cast) -> None:
    _, token = open_one(cast)
    User.objects.filter(pk=cast.coach.pk).update(is_active=False)
    assert invitations.accept(token=token, **JOINS).main_coach is None


def test_a_coach_withdraws_only_their_own(cast: Cast) -> None:
    invitation, _ = open_one(cast)
    assert not invitations.withdraw(by=cast.second_coach, invitation=invitation.pk)
    assert not invitations.withdraw(by=cast.stranger, invitation=invitation.pk)
    assert invitations.withdraw(by=cast.owner, invitation=invitation.pk)


def test_the_database_refuses_two_open_invitations_to_one_address(cast: Cast) -> None:
    invitation, _ = open_one(cast)
    invitation.pk, invitation.token_digest = None, "0" * 64
    invitation.email = "NEW@example.org"
    with pytest.raises(IntegrityError):
        invitation.save(force_insert=True)


def test_the_database_refuses_accepted_and_withdrawn(cast: Cast) -> None:
    invitation, _ = open_one(cast)
    with pytest.raises(IntegrityError):
        Invitation.objects.filter(pk=invitation.pk).update(accepted_at=now(), withdrawn_at=now())


def test_found_starts_a_club_with_an_invited_owner(db) -> None:
    _, token = invitations.found_club(club_name="Quay Barbell", email="o@example.org", name="Odd")
    person = invitations.accept(token=token, **JOINS)
    assert person.is_owner
    assert person.club == Club.objects.get(name="Quay Barbell")


@pytest.mark.django_db(transaction=True)
def test_two_clicks_at_once_make_one_account(cast: Cast) -> None:
    """Eight threads, each with a connection of its own, press Join at the same moment."""
    _, token = open_one(cast)
    start = threading.Barrier(8)
    outcomes: list[str] = []

    def click() -> None:
        start.wait(10)
        try:
            invitations.accept(token=token, **JOINS)
            outcomes.append("joined")
        except invitations.InvitationClosed:
            outcomes.append("used")
        finally:
            connection.close()

    threads = [threading.Thread(target=click) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert sorted(outcomes) == ["joined"] + ["used"] * 7
    assert User.objects.filter(email="new@example.org").count() == 1
