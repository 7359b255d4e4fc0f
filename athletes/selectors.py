"""Reads about people, with a bounded number of SQL statements."""

from django.db.models import Q, QuerySet

from athletes.models import Invitation, PainReport, Role, User
from athletes.permissions import (
    invitations_visible_to,
    pain_reports_visible_to,
    people_visible_to,
)


def athletes_of(user: User, search: str = "") -> QuerySet[User]:
    """The club's athletes with their main coach, by name."""
    people = people_visible_to(user).filter(role=Role.ATHLETE, is_active=True)
    return _matching(people.select_related("main_coach"), search)


def desk_of(user: User, search: str = "") -> QuerySet[User]:
    """Those who coach, by name."""
    people = people_visible_to(user).filter(role__in=[Role.COACH, Role.OWNER], is_active=True)
    return _matching(people, search)


def gone_from(user: User, search: str = "") -> QuerySet[User]:
    """Accounts that were closed."""
    return _matching(people_visible_to(user).filter(is_active=False), search)


def pending_invitations(user: User) -> QuerySet[Invitation]:
    """Invitations nobody used yet, those that ran out included; newest first."""
    return invitations_visible_to(user).pending().select_related("invited_by", "coach")


def open_pain_of(athlete: User, *, viewer: User) -> QuerySet[PainReport]:
    """What this athlete reported, nobody closed and the viewer may see; the newest first. One
    statement."""
    reports = pain_reports_visible_to(viewer).filter(athlete=athlete, closed_at=None)
    return reports.exclude(reported_at=None)


def _matching(people: QuerySet[User], search: str) -> QuerySet[User]:
    for word in search.split():
        people = people.filter(Q(name__icontains=word) | Q(email__icontains=word))
    return people
