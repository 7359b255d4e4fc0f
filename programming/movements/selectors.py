"""Reads about movements, with a bounded number of statements."""

from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Q, QuerySet

from athletes.models import User
from programming.models import Movement
from programming.movements.families import Family
from programming.permissions import movements_visible_to


@dataclass(frozen=True)
class FamilyOf:
    label: str
    movements: list[Movement]


def by_family(reader: User, athlete: User | None = None) -> list[FamilyOf]:
    """What is offered, of one athlete or of the whole club, family by family; an empty family is
    left out. One statement."""
    offered = _known(reader).filter(retired_at=None).order_by("order", "name")
    if athlete is not None:
        offered = offered.filter(Q(athlete=None) | Q(athlete=athlete))
    found = list(offered)
    families = [FamilyOf(str(f.label), [m for m in found if m.family == f]) for f in Family]
    return [family for family in families if family.movements]


def retired(reader: User) -> Iterable[Movement]:
    """No longer offered, by name. One statement."""
    return _known(reader).exclude(retired_at=None).order_by("name")


def _known(reader: User) -> QuerySet[Movement]:
    return movements_visible_to(reader).select_related("athlete", "parent")
