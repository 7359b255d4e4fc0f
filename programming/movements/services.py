"""A club's movements: added, named better, retired, restored, rebuilt for one athlete. Each
public function is one transaction.

Shipped movements belong to everybody and stay as they are.
"""

from django.db import IntegrityError, transaction
from django.db.models import Q
from django.utils import timezone

from athletes.models import User
from coachdesk.common.errors import Invalid
from programming.movements.models import Movement

SHIPPED = "This movement came with Coachdesk and is every club's. Add a variant of your own."
LIFTED = "It has been lifted as it stands, and its max is of that. Add the other variant beside it."
EXACT = ("family", "bar_position", "stance", "grip", "equipment", "tempo")
TAKEN = "There is a movement named {} already. Name what is different: bar, stance, grip or tempo."


@transaction.atomic
def save_movement(*, movement: Movement, by: User) -> Movement:
    """Save an added or changed movement of this person's club.

    Raises Invalid: a shipped one, a name that is taken, or another variant under what was lifted.
    """
    if movement.pk is None:
        movement.club_id = by.club_id
    _own(movement)
    if movement.pk is not None:
        _still_the_same(movement)
    return _saved(movement)


@transaction.atomic
def retire_movement(*, movement: Movement) -> None:
    """Offer it no longer; what was lifted and prescribed with it stays. Raises Invalid."""
    _own(movement)
    if movement.retired_at is None:
        movement.retired_at = timezone.now()
        movement.save(update_fields=["retired_at"])


@transaction.atomic
def restore_movement(*, movement: Movement) -> None:
    """Offer it again. Raises Invalid."""
    _own(movement)
    movement.retired_at = None
    movement.save(update_fields=["retired_at"])


@transaction.atomic
def rebuild_movement(*, athlete: User, parent: Movement, name: str, tempo: str = "") -> Movement:
    """A new movement of this athlete's own, in the place of ``parent`` and remembering it.

    It has no max until it is lifted, and every percentage follows that max (common practice, no
    source). Raises Invalid: the name is taken, or ``parent`` is somebody else's.
    """
    if parent.athlete_id not in {None, athlete.pk}:
        raise Invalid("Only a movement that this athlete lifts can be rebuilt.")
    same = {fact: getattr(parent, fact) for fact in (*EXACT, "order")}
    return _saved(
        Movement(
            club_id=athlete.club_id,
            athlete=athlete,
            parent=parent,
            name=name,
            **{**same, "tempo": tempo or parent.tempo},
        )
    )


def _own(movement: Movement) -> None:
    if movement.club_id is None:
        raise Invalid(SHIPPED)


def _still_the_same(movement: Movement) -> None:
    """Once lifted, only its name may change: its max is that of this variant and no other."""
    stored = Movement.objects.get(pk=movement.pk)
    if all(getattr(stored, fact) == getattr(movement, fact) for fact in EXACT):
        return
    if stored.logged_sets.exists() or stored.verdicts.exists() or stored.max_records.exists():
        raise Invalid(LIFTED)


def _saved(movement: Movement) -> Movement:
    movement.name = " ".join(movement.name.split())
    others = Movement.objects.exclude(pk=movement.pk).filter(name__iexact=movement.name)
    seen = Q(club=None) | Q(club_id=movement.club_id, athlete=None)
    if movement.athlete_id:
        seen |= Q(athlete_id=movement.athlete_id)
    taken = TAKEN.format(movement.name)
    if others.filter(seen).exists():
        raise Invalid(taken)
    try:
        with transaction.atomic():
            movement.save()
    except IntegrityError as twice:  # two coaches add the same name at once
        raise Invalid(taken) from twice
    return movement
