"""What other pages show of an athlete's training."""

from typing import Any

from django import template

from programming.plans.selectors.training_row import today_line

register = template.Library()


@register.inclusion_tag("programming/session/line.html", takes_context=True)
def todays_session(context: dict[str, Any]) -> dict[str, Any]:
    """The section "Today's session" of the athlete's home."""
    return {"line": today_line(context["request"].user)}
