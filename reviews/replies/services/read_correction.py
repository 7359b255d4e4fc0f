"""What a coach types to change the programme, read as what the programme is asked for."""

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from coachdesk.common.errors import Invalid
from coachdesk.common.units import to_kg
from programming.corrections.requests import Wish
from programming.movements.models import Movement
from programming.plans.models import Prescription, TargetKind
from programming.plans.models.correction import Kind, Place
from programming.plans.notation import Dose, read, read_with_words

MAX_NOTE: int = Prescription._meta.get_field("note").max_length  # type: ignore[assignment]
WEEKS = (1, 2, 3, 4, 8)
# Each kind reads its own.
FIELDS: dict[Kind, tuple[str, ...]] = {
    Kind.ADD_DRILL: ("drill_name", "dose", "place", "note"),
    Kind.SWAP: ("to",),
    Kind.CAP: ("percent",),
    Kind.REBUILD: ("name", "dose"),
    Kind.DOSE: ("sets", "reps", "target_kind", "target", "tempo", "rest_seconds"),
    Kind.HOLD: (),
}


def read_correction(
    *, kind: Kind, movement: Movement, weeks: int, today: date, unit: str, **typed: Any
) -> Wish:
    """A dose is read as it is written in the programme, a load is in ``unit``; a drill's dose may
    have words after it, as the library's doses do: they become the note.

    Raises:
        Invalid: the dose cannot be read. The rules of a wish are in
            `programming.corrections.requests`.
    """
    values = {name: typed[name] for name in FIELDS[kind] if typed.get(name) not in (None, "")}
    if kind == Kind.ADD_DRILL:
        dose, words = read_with_words(values.pop("dose", ""), unit)
        values |= _dose_values(dose) | {"note": _note(words, values.get("note", ""))}
        values["place"] = Place(values.get("place", Place.BEFORE))
    elif kind == Kind.REBUILD:
        values |= _dose_values(read(values.pop("dose", ""), unit))
    elif values.get("target_kind") == TargetKind.KG and "target" in values:
        values["target"] = to_kg(values["target"], unit)
    return Wish(kind=kind, movement=movement, until=today + timedelta(weeks=weeks), **values)


def _dose_values(dose: Dose) -> dict[str, Any]:
    values: dict[str, int | str | Decimal | None] = {
        "sets": dose.sets,
        "reps": dose.reps,
        "target_kind": dose.kind,
        "target": dose.target,
        "tempo": dose.tempo,
        "rest_seconds": dose.rest_seconds,
    }
    return {name: value for name, value in values.items() if value is not None}


def _note(words: str, note: str) -> str:
    note = ". ".join(filter(None, (words, note)))
    if len(note) > MAX_NOTE:
        raise Invalid(
            f"The words after the dose and the note are {len(note)} characters together; "
            f"{MAX_NOTE} fit. Shorten one of them."
        )
    return note
