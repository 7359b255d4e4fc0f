"""Each request in the reader's own time zone, and when a session was last seen."""

from collections.abc import Callable
from zoneinfo import ZoneInfo

from allauth.usersessions.models import UserSession
from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.utils import timezone

from athletes.local_time import zone_of
from athletes.models import User


class LocalTimeMiddleware:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        user = request.user
        with timezone.override(zone_of(user) if isinstance(user, User) else ZoneInfo("UTC")):
            return self.get_response(request)


class SessionSeenMiddleware:
    """Keep when and from where a session was last used, once a minute at most.

    A page asks for its clip, frames, poster and library at the same time. A row written for each
    made them wait for one another, up to half a second on SQLite, which has one writer.
    """

    EVERY_SECONDS = 60

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        key = request.session.session_key
        if (
            key
            and request.user.is_authenticated
            and cache.add(f"seen.{key}", 1, self.EVERY_SECONDS)
        ):
            UserSession.objects.create_from_request(request)
        return self.get_response(request)
