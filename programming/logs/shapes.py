"""The log as JSON: what the phone holds and what the API answers."""

from decimal import Decimal
from typing import Any

from coachdesk.common.units import as_typed
from programming.logs.models import LoggedSession, LoggedSet


def plain(number: Decimal | None) -> str | None:
    """A decimal as it is written: "8.5", "8"; null where it is not known."""
    return None if number is None else f"{number.normalize():f}"


def set_json(row: LoggedSet) -> dict[str, Any]:
    """``load`` is in ``unit``, as it was typed."""
    return {
        "id": str(row.pk),
        "session": str(row.session_id),
        "movement": row.movement_id,
        "prescription": str(row.prescription_id) if row.prescription_id else None,
        "position": row.position,
        "load": None if row.load_kg is None else as_typed(row.load_kg, row.load_unit),
        "unit": row.load_unit,
        "reps": row.reps,
        "missed_reps": row.missed_reps,
        "rpe": plain(row.rpe),
        "note": row.note,
        "done_at": row.done_at.isoformat(),
        "revision": row.revision,
    }


def session_json(row: LoggedSession) -> dict[str, Any]:
    return {
        "id": str(row.pk),
        "planned": str(row.planned_id) if row.planned_id else None,
        "day": row.day.isoformat(),
        "session_rpe": plain(row.session_rpe),
        "minutes": row.minutes,
        "note": row.note,
        "started_at": row.started_at.isoformat(),
        "finished_at": row.finished_at.isoformat() if row.finished_at else None,
        "revision": row.revision,
    }
