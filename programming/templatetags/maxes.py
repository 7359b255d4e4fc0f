"""How a max is said: its number, its range, and how it was found."""

from dataclasses import dataclass
from datetime import date
from decimal import ROUND_HALF_UP, Decimal

from django import template
from django.template import Context
from django.utils.formats import date_format
from django.utils.html import format_html
from django.utils.safestring import SafeString

from coachdesk.common.units import from_kg, shown
from programming.load.equations import BY_NAME, EQUATIONS, Equation, one_rep_max
from programming.logs.models import MaxRecord
from programming.logs.selectors.current_maxes import Max, as_max

register = template.Library()
THIN = "\u2009"


def _number(kg: Decimal, unit: str, *, rough: bool) -> str:
    """An estimate in pounds is said in whole ones: its tenths would come from the kilograms."""
    if rough and unit == "lb":
        return f"{from_kg(kg, unit).quantize(Decimal(1), rounding=ROUND_HALF_UP)}"
    return shown(kg, unit)


@register.simple_tag
def max_kg(found: Max, unit: str = "kg") -> SafeString:
    """The number, a thin space, a lighter unit."""
    text = _number(found.kg, unit, rough=not found.is_exact)
    return format_html(
        '<span class="nowrap">{}{}<span class="u">{}</span></span>', text, THIN, unit
    )


@register.filter
def could_be(found: Max, unit: str = "kg") -> str:
    """How sure it is, to stand after the number."""
    if found.by_hand:
        return f"set by hand, {date_format(found.day, 'j M Y')}"
    if found.at_least:
        return "at least; could be more"
    if found.is_exact:
        return "lifted"
    low, high = (_number(kg, unit, rough=True) for kg in (found.low_kg, found.high_kg))
    return f"could be {low} to {high}"


@register.filter
def max_label(found: Max, unit: str = "kg") -> str:
    """ "155 kg, could be 150 to 160"."""
    return f"{_number(found.kg, unit, rough=not found.is_exact)} {unit}, {could_be(found, unit)}"


@register.filter
def how_found(found: Max, unit: str = "kg") -> list[str]:
    """The set, the reps to failure, the formula and the lower end, a sentence each."""
    if found.by_hand:
        return [f"Set by hand: {found.reason}"]
    inputs = found.inputs
    lines = [f"From {_set(inputs, unit)}, {_from(inputs)}."]
    if found.at_least:
        lines.append("How many reps were left is not known, so this is what the set proves.")
    elif not found.is_exact:
        lines.append(_left(inputs))
    if not found.is_exact:
        lines.append(_formula(inputs))
    proved = inputs.get("proved_by")
    if proved and (proved["day"], proved["load"]) != (inputs["day"], inputs["load"]):
        lines.append(f"Not below {shown(found.low_kg, unit)} {unit}: {_set(proved, unit)}.")
    return lines


def _set(inputs: dict, unit: str) -> str:
    day = date.fromisoformat(inputs["day"])
    effort = f", RPE {inputs['rpe']}" if inputs["rpe"] else ""
    load = shown(Decimal(inputs["load"]), unit)
    return f"{load}{THIN}{unit} × {inputs['reps']}{effort} on {date_format(day, 'j M Y')}"


def _from(inputs: dict) -> str:
    if inputs["clip"]:
        return "filmed and reviewed"
    return "from the log"


def _left(inputs: dict) -> str:
    low, high = inputs["to_failure"]
    reps = f"{low}" if low == high else f"{low} to {high}"
    spare = ", and the load could have been more" if inputs.get("could_add_load") else ""
    return f"With the reps in reserve: {reps} to failure{spare}."


def _formula(inputs: dict) -> str:
    equation = BY_NAME[inputs["equation"]]
    return (
        f"Formula: {equation.name}, {equation.written}. The range runs from the lowest to the "
        "highest of seven published ones."
    )


@dataclass(frozen=True)
class Formula:
    """One equation and what it makes of a set: "154 to 161 kg"."""

    equation: Equation
    range: str


@register.simple_tag(takes_context=True)
def formulas_of(context: Context, found: Max) -> list[Formula]:
    """What each equation says of the set that the estimate rests on; none where it is no
    estimate, or where the load itself was the max."""
    if found.by_hand or found.is_exact:
        return []
    unit = context["user"].unit
    low, high = found.inputs["to_failure"]
    load = float(found.inputs["load"])
    formulas = []
    for equation in EQUATIONS:
        ends = one_rep_max(equation, load, [low, high or low])
        ends_shown = [f"{from_kg(Decimal(float(end)), unit):.1f}" for end in ends]
        both = ends_shown[0] if ends_shown[0] == ends_shown[1] else " to ".join(ends_shown)
        formulas.append(Formula(equation, f"{both} {unit}"))
    return formulas


@register.filter
def max_of(record: MaxRecord) -> Max:
    """A record of the history, to be said like the max it was."""
    return as_max(record)
