"""What the desk says about minutes, waits and sections."""

from datetime import datetime
from decimal import Decimal

from django import template
from django.utils import timezone

from reviews.desk.bar import Bar, bar_of
from reviews.desk.evening import LINES_A_PAGE, Evening
from reviews.desk.pace import Pace
from reviews.desk.queries import Section

register = template.Library()
NAMES = {Section.FIRST: "First", Section.DUE: "Due", Section.THEN: "Then"}
WHY = {
    Section.FIRST: "Pain or a warning sign. Answer these before any form question; a warning "
    "sign goes to a clinician first.",
    Section.DUE: "Check-backs and other angles that have come in, and what has waited too long.",
    Section.THEN: "Oldest first.",
}


@register.filter
def span(minutes: float) -> str:
    """A length of time as it is said: "45 minutes" up to two hours, then "2 h 40"."""
    whole = round(minutes)
    if whole <= 120:
        return f"{whole} minute{'' if whole == 1 else 's'}"
    hours, rest = divmod(whole, 60)
    return f"{hours} h {rest:02}" if rest and hours < 24 else f"{hours} h"


@register.filter
def headline(evening: Evening) -> str:
    """The evening in one line."""
    free, fits = evening.free, len(evening.fitting)
    time = span(evening.tonight)
    if not evening.week.waiting:
        return "Your desk is clear"
    if not evening.waiting:
        return "None of these wait"
    if not free:
        return "All that waits is in other hands"
    part = evening.waiting < evening.week.waiting  # the rest waits too: do not say "all that wait"
    if fits == free:
        one, all_ = ("this one", "of these") if part else ("the one that waits", "that wait")
        return f"Your {time} fit {one if free == 1 else f'all {free} {all_}'}"
    if not fits:
        return f"The first takes longer than your {time}"
    return f"Your {time} fit {fits} of {'these ' if part else ''}{free}"


@register.filter
def said(pace: Pace) -> str:
    """Where the minutes come from."""
    each = f"{pace.per_clip:.0f} minute{'' if round(pace.per_clip) == 1 else 's'} a clip"
    if pace.replies:
        over = f"over your last {pace.replies} answers"
        return f"Counted at {each}: your own median from claim to answer, {over}."
    return f"Counted at {each}, until there are five answers of yours to go by."


@register.filter
def bar(evening: Evening) -> Bar:
    return bar_of(evening)


@register.filter
def bar_words(evening: Evening) -> str:
    """The bar for somebody who does not see it."""
    count = f"{evening.free} submission{'' if evening.free == 1 else 's'}"
    about = "about " if evening.is_about else ""
    fits = f"the first {len(evening.fitting)} take {span(evening.fit_minutes)}"
    return f"{count}, {about}{span(evening.free_minutes)} in all; {fits}"


@register.filter
def next_lot(evening: Evening) -> str:
    """ "the last 3" or "50 more"."""
    left = evening.left_out
    return f"the last {left}" if left <= LINES_A_PAGE else f"{LINES_A_PAGE} more"


@register.filter
def per_cent(value: float) -> str:
    """A length for SVG, with a point whatever the locale."""
    return f"{value:.3f}%"


@register.filter
def section_name(section: Section) -> str:
    return NAMES[section]


@register.filter
def section_why(section: Section) -> str:
    return WHY[section]


@register.filter
def trimmed(value: Decimal) -> str:
    """8.0 reads 8, 8.5 stays."""
    return f"{value.normalize():f}"


@register.filter
def waited(sent: datetime) -> str:
    """How long ago, in the coarsest unit that is honest."""
    hours = (timezone.now() - sent).total_seconds() / 3600
    if hours < 1:
        return "just now"
    if hours < 24:
        return f"{int(hours)} h"
    days = int(hours // 24)
    return f"{days} day{'' if days == 1 else 's'}"
