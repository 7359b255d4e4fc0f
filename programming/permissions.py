"""Who may see and do what in programming. Pages and API ask here and nowhere else."""

from django.db.models import Q, QuerySet

from athletes.models import User
from athletes.permissions import people_visible_to
from programming.models import (
    BodyWeight,
    Correction,
    LoggedSession,
    Movement,
    PlannedSession,
    Prescription,
)


def movements_visible_to(user: User) -> QuerySet[Movement]:
    """The shipped movements, the club's own, and variants of one athlete's own for that athlete
    and the club's coaches."""
    whose = Q(club_id=user.club_id) if user.is_coach else Q(club_id=user.club_id, athlete=None)
    return Movement.objects.filter(Q(club=None) | whose | Q(athlete=user))


def corrections_visible_to(user: User) -> QuerySet[Correction]:
    """An athlete's own, or those of the club for who coaches there."""
    return Correction.objects.filter(athlete__in=people_visible_to(user))


def may_log(user: User) -> bool:
    """Athletes write their own log; a coach reads it."""
    return user.is_athlete


def logged_sessions_of(user: User) -> QuerySet[LoggedSession]:
    """What this person may write: their own log."""
    mine = LoggedSession.objects.filter(athlete=user)
    return mine if may_log(user) else mine.none()


def logged_sessions_visible_to(user: User) -> QuerySet[LoggedSession]:
    """An athlete's own, or those of the club for who coaches there."""
    return LoggedSession.objects.filter(athlete__in=people_visible_to(user))


def body_weights_visible_to(user: User) -> QuerySet[BodyWeight]:
    return BodyWeight.objects.filter(athlete__in=people_visible_to(user))


def planned_sessions_of(user: User) -> QuerySet[PlannedSession]:
    """What is planned for this athlete and can be trained."""
    return PlannedSession.objects.filter(programme__athlete=user)


def prescriptions_of(user: User) -> QuerySet[Prescription]:
    return Prescription.objects.filter(session__in=planned_sessions_of(user))
