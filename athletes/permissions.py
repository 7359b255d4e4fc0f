"""Who may see and do what with people. Pages, media and API ask here and nowhere else."""

from typing import cast

from django.contrib.auth.models import AnonymousUser
from django.db.models import QuerySet
from django.http import HttpRequest

from athletes.models import Invitation, User


def signed_in(request: HttpRequest) -> User:
    """The person behind a request that has passed the sign-in gate."""
    return cast(User, request.user)


def people_visible_to(user: User | AnonymousUser) -> QuerySet[User]:
    """A coach sees the people of the club; an athlete only themselves."""
    if not isinstance(user, User):
        return User.objects.none()
    club = User.objects.filter(club_id=user.club_id)
    return club if user.is_coach else club.filter(pk=user.pk)


def invitations_visible_to(user: User) -> QuerySet[Invitation]:
    """An owner sees every invitation of the club, a coach their own."""
    if user.is_owner:
        return Invitation.objects.filter(club_id=user.club_id)
    return Invitation.objects.filter(club_id=user.club_id, invited_by=user)


def roles_invitable_by(user: User) -> list[str]:
    """An owner invites anybody, a coach invites athletes, an athlete nobody."""
    if user.is_owner:
        return ["athlete", "coach", "owner"]
    return ["athlete"] if user.is_coach else []
