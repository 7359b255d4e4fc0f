"""The one caution about pain that is reported and not closed."""

from typing import Any

from django import template

from athletes.models import User
from athletes.selectors import open_pain_of

register = template.Library()


@register.inclusion_tag("athletes/parts/open_pain.html", takes_context=True)
def open_pain(context: dict[str, Any], athlete: User, may_close: bool = True) -> dict[str, Any]:
    """Nothing where there is none. ``may_close`` False: on a page that must work without a
    network, which only points to the page that closes it."""
    request = context["request"]
    return {
        "reports": list(open_pain_of(athlete, viewer=request.user)),
        "athlete": athlete,
        "own": request.user == athlete,
        "may_close": may_close,
        "next": request.get_full_path(),
        "csrf_token": context.get("csrf_token"),
    }
