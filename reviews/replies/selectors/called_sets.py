"""What the calls on a movement's earlier sets say of a fault."""

from decimal import Decimal

from django.db.models import Case, Max, When

from reviews.replies.models import Call, Note, RepCall


def called_sets(note: Note) -> list[tuple[Decimal, bool]]:
    """The athlete's called sets of this movement: load (kg), and whether the note's fault broke a
    rep of it. Reps nobody could tell count for neither. One statement."""
    if note.fault_id is None:
        return []
    called = RepCall.objects.filter(
        clip__submission__athlete=note.clip.submission.athlete_id,
        clip__movement=note.clip.movement_id,
        clip__load_kg__isnull=False,
        call__in=[Call.STANDARD, Call.NOT_STANDARD],
    )
    shows = Max(Case(When(faults=note.fault_id, then=1), default=0))
    sets = called.values("clip", "clip__load_kg").annotate(shows=shows)
    return [
        (load, bool(row["shows"])) for row in sets if (load := row["clip__load_kg"]) is not None
    ]
