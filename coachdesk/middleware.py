"""Headers that no library of ours sets."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponseBase

Answer = Callable[[HttpRequest], HttpResponseBase]


class SameOriginMiddleware:
    """No other site may embed anything from here (Cross-Origin-Resource-Policy, Fetch Standard)."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        response = self.answer(request)
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        return response
