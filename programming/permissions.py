"""Who may see and do what in programming. Pages and API ask here and nowhere else."""

from django.db.models import Q, QuerySet

from athletes.models import User
from programming.models import Movement


def movements_visible_to(user: User) -> QuerySet[Movement]:
    """The shipped movements and the club's own."""
    return Movement.objects.filter(Q(club=None) | Q(club_id=user.club_id))
