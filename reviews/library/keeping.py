"""Keeping a library: entries are added, edited, retired and brought back, never deleted."""

from django.db import transaction
from django.utils import timezone

from athletes.models import User
from reviews.library.models import Cue, Drill, Fault


@transaction.atomic
def keep(*, entry: Fault | Cue | Drill, by: User) -> None:
    """Save an added or edited entry of this person's club. One transaction."""
    if entry.pk is None:
        entry.club_id = by.club_id
        entry.added_by = by
    entry.save()


@transaction.atomic
def keep_under(*, entry: Cue | Drill, fault: Fault, by: User) -> None:
    """Save a cue or drill and see that it belongs to this fault. One transaction."""
    keep(entry=entry, by=by)
    entry.faults.add(fault)


@transaction.atomic
def retire(*, entry: Fault | Cue | Drill) -> None:
    """It is offered no longer; what was already said with it stays said. One transaction."""
    if entry.retired_at is None:
        entry.retired_at = timezone.now()
        entry.save(update_fields=["retired_at"])


@transaction.atomic
def bring_back(*, entry: Fault | Cue | Drill) -> None:
    """It is offered again, as an entry of its own; what a merge moved stays moved. One
    transaction."""
    entry.retired_at = None
    entry.merged_into = None
    entry.save(update_fields=["retired_at", "merged_into"])
