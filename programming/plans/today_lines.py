"""One line of the day's session as the phone shows it: what is asked, and what goes on the bar."""

from datetime import date
from decimal import Decimal
from typing import Any

from coachdesk.common.units import shown
from programming.logs.shapes import plain
from programming.plans.loads import Loads
from programming.plans.models import Prescription, TargetKind
from programming.plans.resolving import Asked

THIN = "\u2009"


def target_words(line: Prescription, unit: str) -> str:
    """ "140 kg", "82.5% of the technical max", "RPE 8", "leave 2 reps", or "by feel"."""
    number = plain(line.target)
    if number is None or line.target is None:
        return "by feel"
    if line.target_kind == TargetKind.KG:
        return f"{shown(line.target, unit)}{THIN}{unit}"
    if line.target_kind == TargetKind.RPE:
        return f"RPE {number}"
    if line.target_kind == TargetKind.RIR:
        return f"leave {number} {'rep' if number == '1' else 'reps'}"
    return f"{number}% of the {line.target_kind} max"


def line_json(line: Prescription, loads: Loads, day: date, unit: str) -> dict[str, Any]:
    """``load`` in ``unit``, null where the athlete decides; ``side``: the plates of one side in
    the unit of the plates; ``how``: the formula in words; ``rest`` in seconds.
    ``line`` comes with its running corrections (held.py)."""
    asked = Asked(line.target_kind, line.target, line.reps, line.cap_percent)
    on_bar = loads.resolve(asked, line.movement_id, day, unit)
    return {
        "id": str(line.pk),
        "movement": line.movement_id,
        "sets": line.sets,
        "reps": line.reps,
        "target": target_words(line, unit),
        "load": None if on_bar.kg is None else shown(on_bar.kg, unit),
        "side": [plain(one) for one in on_bar.plates.side] if on_bar.plates else None,
        "how": on_bar.how,
        "suggested": on_bar.suggested,
        "capped": on_bar.capped,
        "rpe": plain(line.target) if line.target_kind == TargetKind.RPE else None,
        "tempo": line.tempo,
        "rest": line.rest_seconds,
        "note": line.note,
        "held": line.held,
        "changes": [_change_json(one, line, unit) for one in line.running],  # type: ignore[attr-defined]
    }


def _change_json(change: Any, line: Prescription, unit: str) -> dict[str, Any]:
    """What a running correction did to the line: "Cap the low-bar squat at 95%", by whom, and how
    it was before ("" where the dose is the same, null where the line is new)."""
    correction = change.correction
    by = correction.made_by.first_name if correction.made_by else ""
    return {"said": correction.said, "by": by, "was": _was(change.before, line, unit)}


def _was(before: dict[str, Any] | None, line: Prescription, unit: str) -> str | None:
    if before is None:
        return None
    target = Decimal(before["target"]) if before["target"] is not None else None
    old = Prescription(target_kind=before["target_kind"], target=target)
    was, now = target_words(old, unit), target_words(line, unit)
    if (before["sets"], before["reps"], was) == (line.sets, line.reps, now):
        return ""
    return f"{before['sets']} × {before['reps']}, {was}"
