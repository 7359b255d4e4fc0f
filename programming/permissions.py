"""Who may see and do what in programming. Pages and API ask here and nowhere else."""

from django.db.models import Q, QuerySet

from athletes.models import User
from programming.models import Movement


def movements_visible_to(user: User) -> QuerySet[Movement]:
    """The shipped movements, the club's own, and variants of one athlete's own for that athlete
    and the club's coaches."""
    whose = Q(club_id=user.club_id) if user.is_coach else Q(club_id=user.club_id, athlete=None)
    return Movement.objects.filter(Q(club=None) | whose | Q(athlete=user))
