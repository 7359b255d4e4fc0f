"""Form fields in the house's dress."""

from django import forms, template
from django.forms.boundfield import BoundField
from django.utils.safestring import SafeString

register = template.Library()


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
def dress(field: BoundField) -> str:
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
