"""What a coach asks for, checked before anything is looked up.

A wish is kept with the correction as JSON, so that it can be read for ever after.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from coachdesk.common.errors import Invalid
from programming.limits import CAP, is_cap
from programming.movements.models import Movement
from programming.plans.models import TargetKind
from programming.plans.models.correction import Kind, Place


@dataclass(frozen=True, kw_only=True)
class Wish:
    """``movement`` is what the fault was seen in; ``until`` the last day that changes.

    Only what the kind reads has to be given: a drill its ``drill``, dose and place; a swap its
    ``to``; a cap its ``percent`` of the technical max; a rebuild its ``name`` and a target to
    start from, for the new movement has no max; a dose what is to be different; a hold nothing.
    """

    kind: Kind
    movement: Movement
    until: date
    drill: Movement | None = None
    drill_name: str = ""
    to: Movement | None = None
    name: str = ""
    percent: Decimal | None = None
    sets: int | None = None
    reps: int | None = None
    target_kind: str = ""
    target: Decimal | None = None
    tempo: str = ""
    rest_seconds: int | None = None
    note: str = ""
    place: Place = Place.BEFORE

    def checked(self) -> "Wish":
        """Itself. Raises Invalid with the first thing that is missing."""
        reason = _CHECKS[self.kind](self)
        if not reason and (self.target_kind == "") != (self.target is None):
            reason = "A target needs both its kind and its number."
        if reason:
            raise Invalid(reason)
        return self

    def to_json(self) -> dict[str, Any]:
        """Names beside keys: a movement may be renamed later, what was asked for may not."""
        said = {key: value for key, value in vars(self).items() if value not in (None, "")}
        for key in ("movement", "drill", "to"):
            if movement := getattr(self, key):
                said[key] = {"id": movement.pk, "name": movement.name}
        return {key: str(value) if _is_text(value) else value for key, value in said.items()}

    @property
    def said(self) -> str:
        """The change in one line, as the athlete reads it."""
        return _SAID[self.kind](self)


def _is_text(value: Any) -> bool:
    return isinstance(value, Decimal | date)


def _drill(wish: Wish) -> str:
    if not (wish.drill or wish.drill_name.strip()):
        return "Name the drill."
    if not (wish.sets and wish.reps):
        return "A drill needs its sets and reps."
    return ""


def _swap(wish: Wish) -> str:
    if wish.to is None:
        return "Choose the movement that takes its place."
    return "That is the same movement." if wish.to == wish.movement else ""


def _cap(wish: Wish) -> str:
    return "" if wish.percent is not None and is_cap(wish.percent) else CAP


def _rebuild(wish: Wish) -> str:
    if not wish.name.strip():
        return "Name the new movement."
    if wish.target_kind not in {TargetKind.KG, TargetKind.RPE, TargetKind.RIR}:
        return "The new movement has no max yet: give a load, an RPE or reps in reserve to start."
    return ""


def _dose(wish: Wish) -> str:
    given = (wish.sets, wish.reps, wish.rest_seconds, wish.target)
    if not wish.tempo and all(value is None for value in given):
        return "Say what is to be different: sets, reps, target, tempo or rest."
    return ""


_CHECKS = {
    Kind.ADD_DRILL: _drill,
    Kind.SWAP: _swap,
    Kind.CAP: _cap,
    Kind.REBUILD: _rebuild,
    Kind.DOSE: _dose,
    Kind.HOLD: lambda wish: "",
}


def _dose_words(wish: Wish) -> str:
    parts = [f"{wish.sets} sets" if wish.sets and not wish.reps else ""]
    parts += [f"{wish.reps} reps" if wish.reps and not wish.sets else ""]
    parts += [f"{wish.sets} \u00d7 {wish.reps}" if wish.sets and wish.reps else ""]
    if wish.target is not None:
        parts.append(f"at {wish.target.normalize():f} {TargetKind(wish.target_kind).label}")
    parts.append(f"tempo {wish.tempo}" if wish.tempo else "")
    parts.append(f"rest {wish.rest_seconds} s" if wish.rest_seconds else "")
    return ", ".join(part for part in parts if part)


_SAID = {
    Kind.ADD_DRILL: lambda w: f"{w.drill or w.drill_name} added, {w.sets} \u00d7 {w.reps}",
    Kind.SWAP: lambda w: f"{w.to} in place of {w.movement}",
    Kind.CAP: lambda w: f"{w.movement} not above {w.percent.normalize():f}% of the technical max",
    Kind.REBUILD: lambda w: f"{w.movement} rebuilt as {w.name.strip()}",
    Kind.DOSE: lambda w: f"{w.movement}: {_dose_words(w)}",
    Kind.HOLD: lambda w: f"{w.movement} left out for now",
}
