"""Reading a club's library with a bounded number of SQL statements."""

from collections.abc import Collection
from itertools import groupby
from typing import Any

from django.db.models import Prefetch, Q, QuerySet

from programming.movements.families import Family, Phase, phases_of
from reviews.library.models import Cue, Drill, Fault


def in_use(library: QuerySet[Fault]) -> QuerySet[Fault]:
    """Without what was retired, in the faults themselves and in what hangs on them."""
    cues = Prefetch("cues", Cue.objects.filter(retired_at=None))
    drills = Prefetch("drills", Drill.objects.filter(retired_at=None))
    return library.filter(retired_at=None).prefetch_related(cues, drills)


def palette(library: QuerySet[Fault], families: Collection[str]) -> list[dict[str, Any]]:
    """What the workbench offers: the faults of its lifts and of any lift. Three statements."""
    return [
        {
            "id": fault.pk,
            "name": fault.name,
            "phase": fault.phase,
            "family": fault.family,
            "breaks": fault.breaks,
            "cues": [{"id": cue.pk, "text": cue.text} for cue in fault.cues.all()],
            "drills": [
                {"id": drill.pk, "name": drill.name, "dose": drill.dose}
                for drill in fault.drills.all()
            ],
        }
        for fault in in_use(library).filter(family__in={*families, Family.OTHER})
    ]


def search(library: QuerySet[Fault], letters: str) -> QuerySet[Fault]:
    """Faults whose name, or the words of a live cue or drill, contain every word typed."""
    for word in letters.split():
        live_cue = Q(cues__text__icontains=word, cues__retired_at=None)
        live_drill = Q(drills__name__icontains=word, drills__retired_at=None)
        hit = Fault.objects.filter(Q(name__icontains=word) | live_cue | live_drill)
        library = library.filter(pk__in=hit.values("pk"))
    return library


def by_phase(faults: list[Fault], family: str) -> list[tuple[str, list[Fault]]]:
    """Live faults grouped by phase, in the order the phases happen in this lift."""
    order = {phase.value: at for at, phase in enumerate(phases_of(family))}
    last = len(order)
    live = [fault for fault in faults if fault.retired_at is None]
    live.sort(key=lambda fault: (order.get(fault.phase, last), fault.phase, fault.name))
    groups = groupby(live, key=lambda fault: fault.phase)
    return [(str(Phase(phase).label), list(part)) for phase, part in groups]
