"""What the masthead needs on every page."""

from functools import partial
from typing import Any

from django.http import HttpRequest
from django.urls import reverse

from athletes.models import User
from coachdesk.ops.server_page import has_trouble

COACH = [("desk", "Desk"), ("people", "Athletes"), ("library", "Library")]
ATHLETE = [("athlete-home", "Today"), ("replies", "Replies"), ("submit", "Submit")]


def navigation(request: HttpRequest) -> dict[str, Any]:
    """The main links for this person, with the current one marked."""
    user = getattr(request, "user", None)  # a refusal may come before anybody is known
    if not isinstance(user, User):
        return {"main_links": []}
    links = [
        {"url": reverse(name), "label": label}
        for name, label in (COACH if user.is_coach else ATHLETE)
    ]
    here = [link for link in links if request.path.startswith(link["url"])]
    if here:
        max(here, key=lambda link: len(link["url"]))["current"] = "page"
    # A function, so that only a page that shows it asks.
    return {"main_links": links, "server_trouble": partial(has_trouble, user)}
