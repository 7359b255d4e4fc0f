"""Form fields, icons and loads, for every template."""

from decimal import Decimal

from django import forms, template
from django.forms.boundfield import BoundField
from django.templatetags.static import static
from django.utils.html import format_html
from django.utils.safestring import SafeString

from coachdesk.common.units import shown

register = template.Library()
THIN = "\u2009"


@register.simple_tag
def control(field: BoundField, **attrs: str) -> SafeString:
    """The bare input of a field: our class, no placeholder that repeats the label."""
    widget = field.field.widget
    given: dict[str, str | bool] = {
        name.replace("_", "-"): value for name, value in attrs.items() if value
    }
    if not isinstance(widget, (forms.CheckboxInput, forms.RadioSelect)):
        given.setdefault("class", "input")
    widget.attrs.pop("placeholder", None)
    return SafeString(field.as_widget(attrs=given))


@register.filter
def layout(field: BoundField) -> str:
    """How a field is laid out: hidden, check, choice, pick or line."""
    widget = field.field.widget
    if field.is_hidden:
        return "hidden"
    for kind, name in (
        (forms.CheckboxInput, "check"),
        (forms.RadioSelect, "choice"),
        (forms.Select, "pick"),
    ):
        if isinstance(widget, kind):
            return name
    return "line"


@register.simple_tag
def icon(name: str) -> SafeString:
    """A shape from static/icons.svg; it never stands without a word."""
    return format_html(
        '<svg class="icon" viewBox="0 0 16 16" aria-hidden="true"><use href="{}#{}"/></svg>',
        static("icons.svg"),
        name,
    )


@register.simple_tag
def bar_load(kg: Decimal | None, unit: str = "kg") -> SafeString:
    """A load in the reader's unit: the number, a thin space, a lighter unit.

    Not named `load`: as a builtin it would hide Django's own tag from every template.
    """
    if kg is None:
        return SafeString("")
    return format_html(
        '<span class="nowrap">{}{}<span class="u">{}</span></span>', shown(kg, unit), THIN, unit
    )
