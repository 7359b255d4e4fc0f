"""Making one of two faults that mean the same.

Cues and drills move to the one that stays. The other is retired and points at it; notes, replies
and outcomes that name it keep what they said, and whatever names it from now on names the one
that stays.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import cast

from django.db import transaction
from django.utils import timezone

from athletes.models import User
from reviews.library.models import Cue, Drill, Fault

Hung = Cue | Drill


class CannotMerge(Exception):
    """Why both stay as they are: a sentence for the coach."""


@dataclass(frozen=True)
class Merge:
    """What would happen to what hangs on the one that goes."""

    moving: list[Hung]
    doubled: list[tuple[Hung, Hung]]  # one, and the same words (or itself) where they stay


def partners_of(fault: Fault) -> list[Fault]:
    """What it can be merged into: live faults of its club and lift. One statement."""
    same = Fault.objects.filter(club=fault.club_id, family=fault.family, retired_at=None)
    return list(same.exclude(pk=fault.pk))


def used_now(fault: Fault) -> Fault:
    """The one that stands for it since a merge, else itself."""
    return cast(Fault, fault.merged_into or fault)


def merged_ids(faults: Iterable[int]) -> dict[int, int]:
    """Of these, the merged ones with the one that stands for each. One statement."""
    gone = Fault.objects.filter(pk__in=list(faults), merged_into__isnull=False)
    return {fault.pk: fault.merged_into_id for fault in gone if fault.merged_into_id}


def preview(*, fault: Fault, into: Fault) -> Merge:
    """What `merge` would do. Four statements, nothing written."""
    moving: list[Hung] = []
    doubled: list[tuple[Hung, Hung]] = []
    for kind in ("cues", "drills"):
        there = {_words(row): row for row in getattr(into, kind).filter(retired_at=None)}
        for row in getattr(fault, kind).all():
            same = there.get(_words(row))
            if same is None:
                moving.append(row)
            else:
                doubled.append((row, same))
    return Merge(moving, doubled)


def _words(row: Hung) -> tuple[str, str]:
    """What makes two of them the same: the words, and a drill's dose."""
    return " ".join(str(row).casefold().split()), getattr(row, "dose", "")


@transaction.atomic
def merge(*, fault: Fault, into: Fault, by: User) -> Fault:
    """Merge ``fault`` into ``into``, and return that one. One transaction.

    Raises:
        CannotMerge: they are not two faults of this person's club and of one lift, or one of them
            was merged or retired meanwhile.
    """
    # In one order whoever asks: two coaches merging A into B and B into A wait, not deadlock.
    locked = Fault.objects.select_for_update().order_by("pk").in_bulk([fault.pk, into.pk])
    going, staying = locked.get(fault.pk), locked.get(into.pk)
    if going is None or staying is None or going == staying:
        raise CannotMerge("Choose another fault to merge it into.")
    if not by.is_coach or {going.club_id, staying.club_id} != {by.club_id}:
        raise CannotMerge("Choose a fault of this library.")
    if going.family != staying.family:
        raise CannotMerge("Only faults of one lift can be merged.")
    if going.merged_into_id or staying.retired_at:
        raise CannotMerge("One of them was merged or retired meanwhile. Nothing was changed.")
    _move(preview(fault=going, into=staying), going, staying)
    # Pointers stay one step long, so that reading one never walks a chain.
    Fault.objects.filter(merged_into=going).update(merged_into=staying)
    going.retired_at = going.retired_at or timezone.now()
    going.merged_into = staying
    going.save(update_fields=["retired_at", "merged_into"])
    return staying


def _move(found: Merge, going: Fault, staying: Fault) -> None:
    for row in found.moving:
        row.faults.add(staying)
        row.faults.remove(going)
    for row, same in found.doubled:
        row.faults.remove(going)
        if row.faults.exists():
            continue  # it hangs on another fault too (the one that stays, maybe), which keeps it
        row.faults.add(staying)
        row.retired_at = row.retired_at or timezone.now()
        type(row).objects.filter(merged_into=row.pk).update(merged_into=same.pk)
        row.merged_into = same
        row.save(update_fields=["retired_at", "merged_into"])
