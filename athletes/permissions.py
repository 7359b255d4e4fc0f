"""Who may see and do what with people. Pages, media and API ask here and nowhere else.

A function that returns a queryset is the only place a query for people starts from: what is not in
it answers 404. A role that may not open a page at all answers 403.
"""

from collections.abc import Callable
from functools import wraps
from typing import Any, cast

from django.contrib.auth.decorators import login_required
from django.contrib.auth.models import AnonymousUser
from django.core.exceptions import PermissionDenied
from django.db.models import Q, QuerySet
from django.http import HttpRequest, HttpResponseBase

from athletes.models import Club, Invitation, InvitationQuerySet, PainReport, Role, User

View = Callable[..., HttpResponseBase]


def signed_in(request: HttpRequest) -> User:
    """The person behind a request that has passed the sign-in gate."""
    return cast(User, request.user)


def coach_required(view: View) -> View:
    """Only for people who coach: anonymous goes to the sign-in page, an athlete gets 403."""

    @login_required
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not signed_in(request).is_coach:
            raise PermissionDenied
        return view(request, *args, **kwargs)

    return guarded


def owner_required(view: View) -> View:
    """Only for owners: anonymous goes to the sign-in page, everybody else gets 403."""

    @login_required
    @wraps(view)
    def guarded(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if not signed_in(request).is_owner:
            raise PermissionDenied
        return view(request, *args, **kwargs)

    return guarded


def people_visible_to(user: User | AnonymousUser) -> QuerySet[User]:
    """A coach sees the people of the club; an athlete only themselves."""
    if not isinstance(user, User):
        return User.objects.none()
    club = User.objects.filter(club_id=user.club_id)
    return club if user.is_coach else club.filter(pk=user.pk)


def people_manageable_by(user: User) -> QuerySet[User]:
    """Whose role, main coach and access this person may change: an owner's whole club."""
    return people_visible_to(user) if user.is_owner else User.objects.none()


def coaches_of(club: Club) -> QuerySet[User]:
    """Who may be somebody's main coach."""
    return User.objects.filter(club=club, role__in=[Role.COACH, Role.OWNER], is_active=True)


def athletes_without_coach(club: Club) -> QuerySet[User]:
    """Whom nobody in the club looks after: no main coach is named, or the one named is gone."""
    athletes = User.objects.filter(club=club, role=Role.ATHLETE, is_active=True)
    return athletes.exclude(main_coach__in=coaches_of(club))


def has_coach(athlete: User) -> bool:
    """Whether somebody who coaches in the club is their main coach."""
    coach = athlete.main_coach
    return coach is not None and coach.is_active and coach.is_coach


def invitations_visible_to(user: User) -> InvitationQuerySet:
    """An owner sees every invitation of the club, a coach their own, an athlete none."""
    if not user.is_coach:
        return Invitation.objects.none()
    here = Invitation.objects.filter(club_id=user.club_id)
    return here if user.is_owner else here.filter(invited_by=user)


def roles_invitable_by(user: User) -> list[str]:
    """An owner invites anybody, a coach invites athletes, an athlete nobody."""
    if user.is_owner:
        return [Role.ATHLETE, Role.COACH, Role.OWNER]
    return [Role.ATHLETE] if user.is_coach else []


def pain_reports_visible_to(user: User) -> QuerySet[PainReport]:
    """What hurts is told, once it is sent, to the coaches of the athlete's club and nobody else."""
    told = PainReport.objects.filter(athlete__in=people_visible_to(user))
    return told.filter(Q(athlete=user) | Q(reported_at__isnull=False))
