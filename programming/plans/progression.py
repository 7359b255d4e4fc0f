"""What a rule makes of a number, week by week. Pure.

Deloads and steps of these sizes are common practice, no source; the rule is the coach's own.
"""

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from coachdesk.common.units import from_kg, to_kg
from programming.plans.resolving import KG, RIR, RPE

TENTH, HUNDREDTH, HALF = Decimal("0.1"), Decimal("0.01"), Decimal("0.5")
EASIER = Decimal(2)  # RPE less, or reps in reserve more, in an easier week


@dataclass(frozen=True)
class Rule:
    """``amount`` a week in the target's own unit, or (``share``) in per cent of the first load."""

    from_week: int
    amount: Decimal
    share: bool = False
    unit: str = "kg"
    deload_every: int | None = None
    deload_percent: Decimal = Decimal(85)

    def is_deload(self, week: int) -> bool:
        return (
            bool(self.deload_every) and (week - self.from_week + 1) % (self.deload_every or 1) == 0
        )

    def steps(self, week: int) -> int:
        """How many steps are taken by ``week``; an easier week takes none."""
        weeks = range(self.from_week + 1, week + 1)
        return sum(1 for one in weeks if not self.is_deload(one))


def at_week(rule: Rule, kind: str, first: Decimal, week: int) -> Decimal:
    """The target of ``week`` (not before ``rule.from_week``), from that of the first: kg, per
    cent, RPE or reps in reserve. As exact as it is written: a hundredth of a kilogram, a tenth of a
    pound, half a per cent, half a point; the plates round a load later.

    >>> at_week(Rule(1, Decimal("2.5")), "kg", Decimal(100), 3)
    Decimal('105.000')
    """
    if week == rule.from_week:
        return first
    value = _stepped(rule, kind, first, rule.steps(week))
    if rule.is_deload(week):
        value = _easier(rule, kind, value)
    return _writable(rule, kind, value)


def _stepped(rule: Rule, kind: str, first: Decimal, steps: int) -> Decimal:
    if kind != KG:
        return first + rule.amount * steps
    if rule.share:
        return first * (100 + rule.amount * steps) / 100
    if rule.unit == "lb":
        return to_kg(from_kg(first, "lb") + rule.amount * steps, "lb")
    return first + rule.amount * steps


def _easier(rule: Rule, kind: str, value: Decimal) -> Decimal:
    if kind == RPE:
        return value - EASIER
    if kind == RIR:
        return value + EASIER
    return value * rule.deload_percent / 100


def _writable(rule: Rule, kind: str, value: Decimal) -> Decimal:
    if kind == RPE:
        return min(max(_to(HALF, value), Decimal(1)), Decimal(10))
    if kind == RIR:
        return min(max(_to(HALF, value), Decimal(0)), Decimal(10))
    if kind == KG and rule.unit == "lb":
        return to_kg(max(from_kg(value, "lb"), TENTH), "lb")
    if kind != KG:  # half a per cent: nobody lifts the second decimal
        return min(max(_to(HALF, value), HALF), Decimal(150))
    return to_kg(max(value.quantize(HUNDREDTH, rounding=ROUND_HALF_UP), HUNDREDTH), "kg")


def _to(step: Decimal, value: Decimal) -> Decimal:
    return (value / step).quantize(Decimal(1), rounding=ROUND_HALF_UP) * step


def rule_label(rule: Rule, kind: str) -> str:
    """The rule in one line: "+2.5 kg a week, every 4th week at 85%"."""
    sign = "+" if rule.amount >= 0 else "\u2212"
    number = f"{sign}{abs(rule.amount).normalize():f}"
    if kind == KG:
        step = f"{number}% of week {rule.from_week}" if rule.share else f"{number} {rule.unit}"
    else:
        points = {RPE: " RPE", RIR: " in reserve"}.get(kind, "%")
        step = f"{number}{points}"
    if not rule.deload_every:
        return f"{step} a week"
    easy = {RPE: "2 RPE less", RIR: "2 more in reserve"}.get(
        kind, f"at {rule.deload_percent.normalize():f}%"
    )
    return f"{step} a week, every {_ordinal(rule.deload_every)} week {easy}"


def _ordinal(number: int) -> str:
    return f"{number}{ {2: 'nd', 3: 'rd'}.get(number, 'th') }"
