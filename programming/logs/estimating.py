"""Keeping the estimated maxes in step with the log. Each public function is one transaction.

Estimates are derived: `rebuild` drops and makes them again to the same records, and `refresh_day`
after a change gives what a rebuild would.
"""

from collections.abc import Iterable
from datetime import date

from django.db import transaction
from django.db.models import Q

from athletes.models import User
from programming.logs.evidence import lifted_since
from programming.logs.maxes import in_force_order
from programming.logs.models import LoggedSet, MaxKind, MaxRecord, MaxSource, SetVerdict
from programming.logs.stretches import stretch
from programming.movements.models import Movement


@transaction.atomic
def refresh_day(*, athlete: User, day: date) -> None:
    """Bring the maxes up to date after sets or verdicts of ``day`` came, changed or went. One
    transaction; its cost is that of the sets since ``day`` of the movements of that day."""
    refresh_since(athlete=athlete, day=day, movements=_of_day(athlete, day))


@transaction.atomic
def refresh_since(*, athlete: User, day: date, movements: Iterable[Movement]) -> None:
    """Make the estimates of these movements again from ``day`` on. One transaction."""
    User.objects.select_for_update().get(pk=athlete.pk)  # two changes at once go one by one
    for movement in movements:
        for kind in MaxKind.values:
            _remake(athlete, movement, kind, day)


@transaction.atomic
def rebuild(*, athlete: User) -> None:
    """Make every estimate of this athlete again. One transaction."""
    lifted = Q(logged_sets__session__athlete=athlete)
    known = Q(verdicts__athlete=athlete) | Q(max_records__athlete=athlete)
    movements = Movement.objects.filter(lifted | known).distinct()
    refresh_since(athlete=athlete, day=date.min, movements=movements)


def _of_day(athlete: User, day: date) -> list[Movement]:
    """Those lifted or judged that day, and those whose estimate rests on a set that was there."""
    sets = LoggedSet.objects.filter(session__athlete=athlete, session__day=day)
    verdicts = SetVerdict.objects.filter(athlete=athlete, day=day)
    records = MaxRecord.objects.filter(athlete=athlete, day=day, source=MaxSource.ESTIMATE)
    ids: set[int] = set()
    for rows in (sets, verdicts, records):
        ids |= set(rows.order_by().values_list("movement_id", flat=True))
    return list(Movement.objects.filter(pk__in=ids))


def _remake(athlete: User, movement: Movement, kind: str, day: date) -> None:
    """Between two records by hand the max only rises, so each such stretch is made by itself."""
    records = MaxRecord.objects.filter(athlete=athlete, movement=movement, kind=kind)
    by_hand = in_force_order(records.filter(day__gte=day, source=MaxSource.HAND))
    before = in_force_order(records.filter(day__lt=day)).last()
    records.filter(day__gte=day, source=MaxSource.ESTIMATE).delete()
    sets = lifted_since(athlete=athlete, movement=movement, kind=kind, day=day)
    made: list[MaxRecord] = []
    for row in [*by_hand, None]:
        upto = date.max if row is None else row.day
        # A record by hand stands against all of its own day.
        made += stretch([one for one in sets if one.day < upto], before)
        sets = [one for one in sets if one.day > upto]
        before = row
    for one in made:
        one.athlete, one.movement, one.kind = athlete, movement, kind
    MaxRecord.objects.bulk_create(made)
