"""Figures of the load page: a number, or the reason why there is none."""

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from programming.load.figures import Figure

register = template.Library()


@register.simple_tag
def figure(shown: Figure, places: int = 0, scale: float = 1.0) -> SafeString:
    """``scale`` turns kilograms into the reader's unit."""
    if shown.value is None:
        return format_html('<span class="why">{}</span>', shown.why)
    return format_html("{}", f"{shown.value * scale:,.{places}f}")


@register.filter
def percent(share: float | None) -> str:
    return "" if share is None else f"{share * 100:.0f}%"
