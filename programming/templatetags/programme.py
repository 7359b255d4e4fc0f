"""How a cell of the programme speaks in templates."""

from collections.abc import Iterable
from itertools import groupby

from django import template

from coachdesk.common.units import shown
from programming.load.effort import effort_label
from programming.logs.models import LoggedSet
from programming.plans.models import TargetKind
from programming.plans.notation import rest_written
from programming.plans.selectors.programme_grid import Cell

register = template.Library()
THIN = "\u2009"


@register.filter
def dose_label(cell: Cell) -> str:
    """ "3 × 5", never broken."""
    line = cell.line
    return f"{line.sets}\u00a0×\u00a0{line.reps}" if line else ""


@register.filter
def target_label(cell: Cell, unit: str) -> str:
    """The target as it was asked: "140 kg", "82.5%", "RPE 8", "2 in reserve"."""
    line = cell.line
    if line is None or line.target is None:
        return ""
    if line.target_kind == TargetKind.KG:
        return f"{shown(line.target, unit)}{THIN}{unit}"
    number = f"{line.target.normalize():f}"
    return {
        TargetKind.TECHNICAL: f"{number}%",
        TargetKind.BEST: f"{number}% of best",
        TargetKind.RPE: effort_label(line.target, None),
        TargetKind.RIR: effort_label(None, line.target),
    }[TargetKind(line.target_kind)]


@register.filter
def load_label(cell: Cell, unit: str) -> str:
    """The one thing to know at the bar: the load, or the effort where that decides."""
    line, known = cell.line, cell.resolved
    if line is None or known is None:
        return ""
    if line.target_kind in {TargetKind.RPE, TargetKind.RIR}:
        return target_label(cell, unit)
    if line.target_kind == TargetKind.NONE:
        return "by feel"
    if known.kg is None:
        return target_label(cell, unit) if _is_template(cell) else "open"
    return f"{shown(known.kg, unit)}{THIN}{unit}"


@register.filter
def details(cell: Cell, unit: str) -> str:
    """Below it: where the load comes from, the cap, tempo and rest."""
    line, known = cell.line, cell.resolved
    if line is None or known is None:
        return ""
    parts = [] if _is_template(cell) else [_whence(cell, unit)]
    if line.cap_percent is not None:
        parts.append(f"cap {line.cap_percent.normalize():f}%")
    if line.tempo:
        parts.append(f"tempo {line.tempo}")
    if line.rest_seconds:
        parts.append(f"rest {rest_written(line.rest_seconds)}")
    return ", ".join(filter(None, parts))


def _whence(cell: Cell, unit: str) -> str:
    """Where the load comes from, when it is not written as such."""
    line, known = cell.line, cell.resolved
    if line is None or known is None:
        return ""
    if line.target_kind in {TargetKind.TECHNICAL, TargetKind.BEST}:
        return target_label(cell, unit) + (", no max yet" if known.kg is None else "")
    if known.suggested and known.kg is not None:
        return f"about {shown(known.kg, unit)}{THIN}{unit}"
    if line.target_kind == TargetKind.KG and known.kg != line.target:
        return f"asked {target_label(cell, unit)}"
    return ""


def _is_template(cell: Cell) -> bool:
    return cell.session is not None and cell.session.day is None


@register.filter
def done_lines(cell: Cell, unit: str) -> list[dict[str, str]]:
    """What was done, sets alike together: "3 × 5" and "140 kg"."""
    lines = []
    for (kg, reps), alike in groupby(_in_order(cell.done), lambda one: (one.load_kg, one.reps)):
        load = "" if kg is None else f"{shown(kg, unit)}{THIN}{unit}"
        lines.append({"dose": f"{len(list(alike))}\u00a0×\u00a0{reps}", "load": load})
    return lines


@register.filter
def missed(cell: Cell) -> int:
    return sum(one.missed_reps for one in cell.done)


def _in_order(sets: Iterable[LoggedSet]) -> list[LoggedSet]:
    return sorted(sets, key=lambda one: (one.position, one.done_at))
