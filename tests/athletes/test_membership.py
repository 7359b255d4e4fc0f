"""What an owner may change, and that a club never loses its last owner."""

import threading

import pytest
from django.core.exceptions import PermissionDenied
from django.db import connection
from django.test import Client

from athletes.models import Role, User
from athletes.services import invitations, membership
from coachdesk.common.errors import Conflict
from tests.conftest import Cast


def test_an_owner_gives_role_and_main_coach(cast: Cast) -> None:
    membership.assign_role(
        by=cast.owner, person=cast.athlete, role=Role.ATHLETE, main_coach=cast.second_coach
    )
    cast.athlete.refresh_from_db()
    assert cast.athlete.main_coach == cast.second_coach


@pytest.mark.parametrize("who", ["coach", "athlete", "stranger", "outsider"])
def test_nobody_else_does(cast: Cast, who: str) -> None:
    by = getattr(cast, who)
    with pytest.raises(PermissionDenied):
        membership.assign_role(by=by, person=cast.athlete, role=Role.COACH, main_coach=None)
    with pytest.raises(PermissionDenied):
        membership.deactivate(by=by, person=cast.athlete)
    with pytest.raises(PermissionDenied):
        membership.reactivate(by=by, person=cast.athlete)


def test_an_owner_reaches_only_their_own_club(cast: Cast) -> None:
    with pytest.raises(PermissionDenied):
        membership.deactivate(by=cast.owner, person=cast.outsider)


@pytest.mark.parametrize("who", ["stranger", "other_athlete", "athlete"])
def test_a_main_coach_coaches_here_and_is_somebody_else(cast: Cast, who: str) -> None:
    with pytest.raises(PermissionDenied):
        membership.assign_role(
            by=cast.owner, person=cast.athlete, role=Role.ATHLETE, main_coach=getattr(cast, who)
        )


def test_a_coach_has_no_main_coach(cast: Cast) -> None:
    membership.assign_role(
        by=cast.owner, person=cast.athlete, role=Role.COACH, main_coach=cast.coach
    )
    cast.athlete.refresh_from_db()
    assert cast.athlete.main_coach is None


def test_a_coach_who_becomes_an_athlete_leaves_the_desk(cast: Cast) -> None:
    invitation, _ = invitations.invite(by=cast.coach, email="new@example.org", role=Role.ATHLETE)
    membership.assign_role(by=cast.owner, person=cast.coach, role=Role.ATHLETE, main_coach=None)
    cast.athlete.refresh_from_db()
    invitation.refresh_from_db()
    assert cast.athlete.main_coach is None
    assert invitation.state == "withdrawn"


def test_the_last_owner_stays(cast: Cast) -> None:
    with pytest.raises(Conflict):
        membership.assign_role(by=cast.owner, person=cast.owner, role=Role.COACH, main_coach=None)
    with pytest.raises(Conflict):
        membership.deactivate(by=cast.owner, person=cast.owner)


def test_an_owner_who_cannot_sign_in_does_not_count(cast: Cast) -> None:
    User.objects.filter(pk=cast.second_coach.pk).update(role=Role.OWNER, is_active=False)
    with pytest.raises(Conflict):
        membership.deactivate(by=cast.owner, person=cast.owner)


@pytest.mark.django_db(transaction=True)
def test_two_owners_cannot_remove_each_other(cast: Cast) -> None:
    User.objects.filter(pk=cast.second_coach.pk).update(role=Role.OWNER)
    pair = [cast.owner, User.objects.get(pk=cast.second_coach.pk)]
    start = threading.Barrier(2)
    refused: list[Exception] = []

    def remove(by: User, person: User) -> None:
        start.wait(10)
        try:
            membership.deactivate(by=by, person=person)
        except (Conflict, PermissionDenied) as error:
            refused.append(error)
        finally:
            connection.close()

    threads = [
        threading.Thread(target=remove, args=args) for args in [tuple(pair), tuple(pair[::-1])]
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert len(refused) == 1
    assert User.objects.filter(club=cast.owner.club, role=Role.OWNER, is_active=True).count() == 1


def test_deactivating_ends_every_session_at_once(cast: Cast) -> None:
    phone, laptop = Client(), Client()
    for device in (phone, laptop):
        device.force_login(cast.athlete)
        assert device.get("/me/").status_code == 200
    membership.deactivate(by=cast.owner, person=cast.athlete)
    for device in (phone, laptop):
        assert device.get("/me/").status_code == 302
    membership.reactivate(by=cast.owner, person=cast.athlete)
    # The old cookie stays dead: the session row is gone.
    assert phone.get("/me/").status_code == 302


def test_a_deactivated_person_cannot_sign_in(cast: Cast, client: Client) -> None:
    membership.deactivate(by=cast.owner, person=cast.athlete)
    client.post("/accounts/login/", {"login": cast.athlete.email, "password": "a long passphrase"})
    assert "_auth_user_id" not in client.session
