"""A prescription as people read it: what is lifted, how often, and what goes on the bar.

The preview, the coming sessions, the reply and every mail read this and nothing else, so that they
all name the load that the programme itself resolves to.
"""

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from coachdesk.common.units import shown
from programming.corrections.snapshots import Snapshot
from programming.plans.models import Prescription, TargetKind
from programming.plans.resolving import Asked, Resolved
from programming.plans.selectors.loads import Loads
from programming.plans.targets import target_label

THIN = "\u2009"


@dataclass(frozen=True)
class PrescriptionSummary:
    """``rules``: what keeps deciding when the max moves; ``extra``: tempo, rest and note."""

    movement: str
    sets: int
    reps: int
    held: bool
    target: str
    load: Resolved
    unit: str
    rules: tuple[str, ...]
    extra: str

    @property
    def work(self) -> str:
        """ "122.5 kg", "RPE 8, about 120 kg", "left out", "by feel"."""
        if self.held:
            return "left out"
        if self.load.kg is None:
            return self.target
        on_bar = f"{shown(self.load.kg, self.unit)}{THIN}{self.unit}"
        return f"{self.target}, about {on_bar}" if self.load.suggested else on_bar

    def asks_the_same(self, other: "PrescriptionSummary") -> bool:
        """For the athlete nothing differs today, though another rule may decide later."""
        names = ("movement", "sets", "reps", "work", "extra")
        return all(getattr(self, name) == getattr(other, name) for name in names)

    def __str__(self) -> str:
        rules = () if self.held else self.rules
        dose = f"{self.movement} {self.sets} \u00d7 {self.reps}"
        return ", ".join([dose, self.work, *rules])


def summarize(
    values: Snapshot, *, movement: str, loads: Loads, day: date, unit: str
) -> PrescriptionSummary:
    """``loads`` are the athlete's; ``day`` that of the maxes; ``unit`` the reader's."""
    asked = Asked(
        values["target_kind"],
        Decimal(values["target"]) if values["target"] else None,
        values["reps"],
        Decimal(values["cap_percent"]) if values["cap_percent"] else None,
    )
    target = target_label(Prescription(target_kind=asked.kind, target=asked.target), unit)
    load = loads.resolve(asked, values["movement_id"], day, unit)
    return PrescriptionSummary(
        movement=movement,
        sets=values["sets"],
        reps=values["reps"],
        held=values["held"],
        target=target,
        load=load,
        unit=unit,
        rules=tuple(_rules(asked, target, load)),
        extra=_extra(values),
    )


def _rules(asked: Asked, target: str, load: Resolved) -> list[str]:
    shares = {TargetKind.TECHNICAL, TargetKind.BEST}
    rules = [target] if asked.kind in shares and load.kg is not None else []
    if asked.cap_percent is not None:
        rules.append(f"not above {asked.cap_percent.normalize():f}% of the technical max")
    return rules


def _extra(values: Snapshot) -> str:
    rest = values["rest_seconds"]
    parts = [
        f"tempo {values['tempo']}" if values["tempo"] else "",
        f"rest {rest} s" if rest else "",
        values["note"],
    ]
    return ", ".join(part for part in parts if part)
