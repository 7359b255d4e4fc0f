"""What a token may do. A person's own session may do what the person may."""

from typing import Any

from rest_framework.permissions import SAFE_METHODS, BasePermission
from rest_framework.request import Request

from athletes.tokens.models import READ, WRITE, ApiToken, Area

# The area of a view is that of the wing it belongs to.
AREAS = {
    "athletes": Area.CLUB,
    "programming.movements": Area.PROGRAMME,
    "programming.plans": Area.PROGRAMME,
    "programming.corrections": Area.PROGRAMME,
    "programming.logs": Area.LOG,
    "reviews.intake": Area.SUBMISSIONS,
    "reviews.library": Area.REVIEWS,
    "reviews.desk": Area.REVIEWS,
    "reviews.replies": Area.REVIEWS,
}


def area_of(view: Any) -> Area | None:
    """None for what every token may ask (who am I, the document itself)."""
    if hasattr(view, "area"):
        return view.area
    parts = type(view).__module__.split(".")
    for length in (2, 1):
        if area := AREAS.get(".".join(parts[:length])):
            return area
    raise LookupError(f"{type(view)} belongs to no area")  # a new wing: name it above


class WithinScope(BasePermission):
    """A token without the scope gets 403, whatever its person may do."""

    def has_permission(self, request: Request, view: Any) -> bool:
        token = request.auth
        area = area_of(view)
        if not isinstance(token, ApiToken) or area is None:
            return True
        action = READ if request.method in SAFE_METHODS else WRITE
        self.message = f"This token may not do that: it needs the scope {area}:{action}."
        return token.allows(area, action)
