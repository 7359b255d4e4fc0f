"""Making one of two cues, or of two drills, that mean the same: see `merging`.

The one that stays hangs on every fault the other hung on. Its words and its dose are used from then
on; what was said or prescribed with the other keeps the other's.
"""

from dataclasses import dataclass

from django.db import transaction
from django.db.models import Prefetch

from athletes.models import User
from reviews.library.merging import Hung, locked_pair, point
from reviews.library.models import Cue, Drill, Fault


@dataclass(frozen=True)
class Spread:
    """Where the one that stays would hang."""

    gained: list[Fault]  # on these too
    already: list[Fault]  # both hang there now


def partners_of(entry: Cue | Drill) -> list[Hung]:
    """What it can be merged into: the live ones of its club and kind, with the faults they hang on
    as `faults`. Two statements."""
    live = type(entry).objects.filter(club=entry.club_id, retired_at=None).exclude(pk=entry.pk)
    return list(live.prefetch_related(Prefetch("faults", Fault.objects.order_by("pk"))))


def preview(*, entry: Hung, into: Hung) -> Spread:
    """What `merge` would do. Two statements, nothing written."""
    there = set(into.faults.all())
    here = list(entry.faults.all())
    gained = [fault for fault in here if fault not in there]
    return Spread(gained, [fault for fault in here if fault in there])


@transaction.atomic
def merge(*, entry: Hung, into: Hung, by: User) -> Hung:
    """Merge ``entry`` into ``into`` of the same kind, and return that one. One transaction.

    Raises: as `merging.locked_pair`.
    """
    going, staying = locked_pair(entry, into, by)
    # The one that goes stays where it hung: retired, it is found there and can be brought back.
    staying.faults.add(*going.faults.all())
    point(going, staying)
    return staying
