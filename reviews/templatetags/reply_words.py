"""How a coach's words are set."""

import re

from django import template
from django.utils.html import conditional_escape
from django.utils.safestring import SafeString, mark_safe

register = template.Library()
SETS = re.compile(r"(\d+) ?[×x] ?(\d+)")
NO_BREAK = "\u00a0"


@register.filter(needs_autoescape=True)
def kept(text: str, autoescape: bool = True) -> SafeString:
    """Sets and reps never break over a line, and "3x4" is written "3 × 4"."""
    escaped = conditional_escape(text) if autoescape else text
    return mark_safe(SETS.sub(rf"\1{NO_BREAK}×{NO_BREAK}\2", str(escaped)))
