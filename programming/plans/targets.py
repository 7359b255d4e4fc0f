"""What a prescription asks for, in words."""

from coachdesk.common.units import shown
from programming.load.effort import effort_label
from programming.logs.schemas import plain
from programming.plans.models import Prescription, TargetKind

THIN = "\u2009"


def target_label(line: Prescription, unit: str) -> str:
    """ "140 kg", "82.5% of the technical max", "RPE 8", "leave 2 reps", or "by feel"."""
    number = plain(line.target)
    if number is None or line.target is None:
        return "by feel"
    if line.target_kind == TargetKind.KG:
        return f"{shown(line.target, unit)}{THIN}{unit}"
    if line.target_kind == TargetKind.RPE:
        return effort_label(line.target, None)
    if line.target_kind == TargetKind.RIR:
        return f"leave {number} {'rep' if number == '1' else 'reps'}"
    return f"{number}% of the {line.target_kind} max"
