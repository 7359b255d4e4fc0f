"""How the log speaks in templates."""

from decimal import Decimal

from django import template
from django.templatetags.static import static
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString

from programming.logs.models import LoggedSet
from programming.models import Prescription
from programming.plans.targets import target_label

register = template.Library()
MOST_MARKS = 12


@register.filter
def tidy(number: Decimal | None) -> str:
    """ "8.5", "8"."""
    return "" if number is None else f"{number.normalize():f}"


@register.filter
def target(line: Prescription, unit: str) -> str:
    """What was asked: "at 140 kg", "at 82.5% of the technical max", ", leave 2 reps"."""
    words = target_label(line, unit)
    return f"at {words}" if words[0].isdigit() or words.startswith("RPE") else words


@register.simple_tag
def rep_marks(row: LoggedSet, line: Prescription | None) -> SafeString:
    """One mark per rep: done, missed, not done. Many reps are left to the number."""
    asked = line.reps if line else 0
    short = max(0, asked - row.reps - row.missed_reps)
    marks = ["standard"] * row.reps + ["not-standard"] * row.missed_reps + ["not-done"] * short
    counts = [(row.reps, "done"), (row.missed_reps, "missed"), (short, "not done")]
    label = ", ".join(f"{count} {word}" for count, word in counts if count)
    if len(marks) > MOST_MARKS:
        return format_html('<span class="small muted">{}</span>', label)
    icons = static("icons.svg")
    drawn = format_html_join(
        "",
        '<svg class="icon {}" viewBox="0 0 16 16" aria-hidden="true"><use href="{}#{}"/></svg>',
        ((mark, icons, mark) for mark in marks),
    )
    return format_html('<span class="marks" role="img" aria-label="{}">{}</span>', label, drawn)
