"""Making one of two entries that mean the same.

What hung on the one that goes hangs on the one that stays. The other is retired and points at it;
notes, replies and outcomes that name it keep what they said, and whatever names it from now on
names the one that stays. Here what every kind shares, and faults; cues and drills are in
`merging_hung`.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import TypeVar, cast

from django.db import transaction
from django.utils import timezone

from athletes.models import User
from coachdesk.common.errors import Invalid
from reviews.library.models import Cue, Drill, Fault

Hung = Cue | Drill
One = TypeVar("One", bound=Fault | Cue | Drill)


@dataclass(frozen=True)
class Merge:
    """What would happen to what hangs on the one that goes."""

    moving: list[Hung]
    doubled: list[tuple[Hung, Hung]]  # one, and the same words (or itself) where they stay


def partners_of(fault: Fault) -> list[Fault]:
    """What it can be merged into: live faults of its club and lift. One statement."""
    same = Fault.objects.filter(club=fault.club_id, family=fault.family, retired_at=None)
    return list(same.exclude(pk=fault.pk))


def used_now(entry: One) -> One:
    """The one that stands for it since a merge, else itself."""
    return cast(One, entry.merged_into or entry)


def locked_pair(entry: One, into: One, by: User) -> tuple[One, One]:
    """The one that goes and the one that stays, held until the commit.

    Raises:
        Invalid: they are not two entries of this person's club, or one of them was merged or
            retired meanwhile.
    """
    kind = type(entry)
    name = kind._meta.verbose_name
    # In one order whoever asks: two coaches merging A into B and B into A wait, not deadlock.
    locked = kind.objects.select_for_update().order_by("pk").in_bulk([entry.pk, into.pk])
    going, staying = locked.get(entry.pk), locked.get(into.pk)
    if going is None or staying is None or going == staying:
        raise Invalid(f"Choose another {name} to merge it into.")
    if not by.is_coach or {going.club_id, staying.club_id} != {by.club_id}:
        raise Invalid(f"Choose a {name} of this library.")
    if going.merged_into_id or staying.retired_at:
        raise Invalid("One of them was merged or retired meanwhile. Nothing was changed.")
    return cast(One, going), cast(One, staying)


def point(going: Fault | Hung, staying: Fault | Hung) -> None:
    """Retire the one and let it point at the other. Pointers stay one step long, so that reading
    one never walks a chain."""
    type(going).objects.filter(merged_into=going.pk).update(merged_into=staying.pk)
    going.retired_at = going.retired_at or timezone.now()
    going.merged_into = staying
    going.save(update_fields=["retired_at", "merged_into"])


def used_instead(faults: Iterable[int]) -> dict[int, Fault]:
    """For each of these the entry that is used now: itself, or what it was merged into. One
    statement."""
    rows = Fault.objects.filter(pk__in=list(faults)).select_related("merged_into")
    return {fault.pk: cast(Fault, fault.merged_into or fault) for fault in rows}


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
        Invalid: they are not two faults of this person's club and of one lift, or one of them
            was merged or retired meanwhile.
    """
    going, staying = locked_pair(fault, into, by)
    if going.family != staying.family:
        raise Invalid("Only faults of one lift can be merged.")
    _move(preview(fault=going, into=staying), going, staying)
    point(going, staying)
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
        point(row, same)
