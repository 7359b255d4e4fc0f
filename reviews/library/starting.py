"""Giving a club the starter library."""

from django.db import transaction

from athletes.models import Club
from reviews.library.models import Cue, Drill, Fault
from reviews.library.starter import STARTER, StarterFault


@transaction.atomic
def install_starter(club: Club) -> int:
    """Add the starter faults the club has no entry for, with their cues and drills.

    Entries are known by lift and name: what the club has edited or retired stays as it is, and a
    renamed one comes back under its first name. One transaction; returns how many were added.
    """
    have = set(Fault.objects.filter(club=club).values_list("family", "name"))
    wanted = [
        (family.value, fault)
        for family, faults in STARTER.items()
        for fault in faults
        if (family.value, fault.name) not in have
    ]
    faults = Fault.objects.bulk_create(
        [_fault(club, family, starter) for family, starter in wanted]
    )
    pairs = list(zip(faults, [starter for _, starter in wanted], strict=True))
    _link_cues(club, pairs)
    _link_drills(club, pairs)
    return len(faults)


def _fault(club: Club, family: str, starter: StarterFault) -> Fault:
    return Fault(
        club=club,
        family=family,
        phase=starter.phase,
        name=starter.name,
        see=starter.see,
        sight=starter.sight,
        causes="\n".join(starter.causes),
        breaks=starter.breaks,
        breaks_note=starter.breaks_note,
        goal_note=starter.goal_note,
    )


def _link_cues(club: Club, pairs: list[tuple[Fault, StarterFault]]) -> None:
    """One row per wording, whatever the number of faults it is for."""
    wanted = {cue.text: cue for _, starter in pairs for cue in starter.cues}
    rows = {cue.text: cue for cue in Cue.objects.filter(club=club, text__in=wanted)}
    missing = [
        Cue(club=club, text=cue.text, outside_focus=cue.outside)
        for cue in wanted.values()
        if cue.text not in rows
    ]
    rows |= {cue.text: cue for cue in Cue.objects.bulk_create(missing)}
    links = Cue.faults.through
    links._default_manager.bulk_create(
        links(cue_id=rows[cue.text].pk, fault_id=fault.pk)
        for fault, starter in pairs
        for cue in starter.cues
    )


def _link_drills(club: Club, pairs: list[tuple[Fault, StarterFault]]) -> None:
    """One row per drill and dose, whatever the number of faults it is for."""
    wanted = {drill for _, starter in pairs for drill in starter.drills}
    names = {drill.name for drill in wanted}
    found = Drill.objects.filter(club=club, name__in=names)
    rows = {(drill.name, drill.dose): drill for drill in found}
    missing = sorted((d.name, d.dose) for d in wanted if (d.name, d.dose) not in rows)
    made = Drill.objects.bulk_create(
        [Drill(club=club, name=name, dose=dose) for name, dose in missing]
    )
    rows |= {(drill.name, drill.dose): drill for drill in made}
    links = Drill.faults.through
    links._default_manager.bulk_create(
        links(drill_id=rows[drill.name, drill.dose].pk, fault_id=fault.pk)
        for fault, starter in pairs
        for drill in starter.drills
    )
