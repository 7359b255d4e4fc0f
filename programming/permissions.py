"""Who may see and do what in programming. Pages and API ask here and nowhere else."""

from django.db.models import Q, QuerySet

from athletes.models import Role, User
from athletes.permissions import people_visible_to
from athletes.selectors import athletes_of
from programming.models import (
    BodyWeight,
    Correction,
    LoggedSession,
    MaxRecord,
    Movement,
    PlannedSession,
    Prescription,
    Programme,
)


def movements_visible_to(user: User) -> QuerySet[Movement]:
    """The shipped movements, the club's own, and variants of one athlete's own for that athlete
    and the club's coaches."""
    whose = Q(club_id=user.club_id) if user.is_coach else Q(club_id=user.club_id, athlete=None)
    return Movement.objects.filter(Q(club=None) | whose | Q(athlete=user))


def movements_of(athlete: User) -> QuerySet[Movement]:
    """What this athlete may lift: shipped, the club's, and variants of their own."""
    club = Q(club_id=athlete.club_id, athlete=None)
    return Movement.objects.filter(Q(club=None) | club | Q(athlete=athlete))


def movements_kept_by(user: User) -> QuerySet[Movement]:
    """Those a coach may change: the club's own. The shipped ones are every club's."""
    kept = Movement.objects.filter(club_id=user.club_id)
    return kept if user.is_coach else kept.none()


def athletes_rebuilding(user: User, parent: Movement) -> QuerySet[User]:
    """For whom this person may rebuild a movement: the club's athletes; one of an athlete's own
    only for that athlete."""
    athletes = athletes_of(user) if user.is_coach else User.objects.none()
    return athletes.filter(pk=parent.athlete_id) if parent.athlete_id else athletes


def athletes_coached_by(user: User) -> QuerySet[User]:
    """Whose file this person may open and whose maxes they may set: the club's athletes."""
    people = athletes_readable_by(user)
    return people if user.is_coach else people.none()


def athletes_readable_by(user: User) -> QuerySet[User]:
    """Whose load and faults this person may read: an athlete their own, a coach the club's."""
    return people_visible_to(user).filter(role=Role.ATHLETE)


def max_records_visible_to(user: User) -> QuerySet[MaxRecord]:
    """An athlete's own, or those of the club for who coaches there."""
    return MaxRecord.objects.filter(athlete__in=people_visible_to(user))


def corrections_visible_to(user: User) -> QuerySet[Correction]:
    """An athlete's own, or those of the club for who coaches there."""
    return Correction.objects.filter(athlete__in=people_visible_to(user))


def corrections_changeable_by(user: User) -> QuerySet[Correction]:
    """Any coach of the club may take one back: the desk is shared."""
    seen = corrections_visible_to(user)
    return seen if user.is_coach else seen.none()


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


def programmes_visible_to(user: User) -> QuerySet[Programme]:
    """An athlete's own, without the club's templates; a coach's club whole."""
    if user.is_coach:
        return Programme.objects.filter(club_id=user.club_id)
    return Programme.objects.filter(athlete=user)


def prescriptions_visible_to(user: User) -> QuerySet[Prescription]:
    """Lines of the programmes this person may read."""
    return Prescription.objects.filter(session__programme__in=programmes_visible_to(user))


def programmes_editable_by(user: User) -> QuerySet[Programme]:
    """Any coach of the club plans for its athletes: the desk is shared."""
    seen = programmes_visible_to(user)
    return seen if user.is_coach else seen.none()
