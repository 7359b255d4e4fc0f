"""Each request in the reader's own time zone."""

from collections.abc import Callable
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from django.http import HttpRequest, HttpResponse
from django.utils import timezone


class LocalTimeMiddleware:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        name = getattr(request.user, "timezone", "UTC")
        try:
            zone = ZoneInfo(name)
        except (ZoneInfoNotFoundError, ValueError):  # a zone this system does not know
            zone = ZoneInfo("UTC")
        with timezone.override(zone):
            return self.get_response(request)
