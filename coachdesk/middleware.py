"""What every answer passes: headers that no library of ours sets, and the log of requests."""

import logging
import time
from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponseBase

log = logging.getLogger("coachdesk.requests")
Answer = Callable[[HttpRequest], HttpResponseBase]


# Nothing here asks for these (W3C Permissions Policy); filming is the phone's own camera app.
PERMISSIONS = ", ".join(
    f"{feature}=()"
    for feature in (
        *("accelerometer", "camera", "display-capture", "geolocation", "gyroscope"),
        *("magnetometer", "microphone", "midi", "payment", "usb"),
    )
)


class AnswerHeadersMiddleware:
    """No other site may embed anything from here (Cross-Origin-Resource-Policy, Fetch Standard);
    a page uses none of the machine's sensors; what was made for somebody is stored by no cache
    (RFC 9111, section 5.2.2.5), unless its view says otherwise."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        response = self.answer(request)
        response.headers.setdefault("Cross-Origin-Resource-Policy", "same-origin")
        if response.headers.get("Content-Type", "").startswith("text/html"):
            response.headers.setdefault("Permissions-Policy", PERMISSIONS)
        # Without the attribute it was answered before anybody was known: a file, a refusal.
        if getattr(getattr(request, "user", None), "is_authenticated", False):
            response.headers.setdefault("Cache-Control", "private, no-store")
        return response


class KeptFormMiddleware:
    """A form sent by static/js/forms/kept-form.js is told where it leads, not led there: a fetch
    that followed would use up the messages of the next page. 401 where that is the sign-in page."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        response = self.answer(request)
        if request.headers.get("X-Kept-Form") and 300 <= response.status_code < 400:
            to = response.headers["Location"]
            del response.headers["Location"]
            if to.startswith(str(settings.LOGIN_URL)):
                response.status_code = 401
            else:
                response.status_code = 204
                response.headers["X-Location"] = to
        return response


class RequestLogMiddleware:
    """One line a request: which route, how it went, how long; neither who nor the path."""

    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        start = time.monotonic()
        response = self.answer(request)
        match = request.resolver_match
        told = {
            "route": match.view_name if match else "",
            "method": request.method,
            "status": response.status_code,
            "ms": round((time.monotonic() - start) * 1000),
        }
        log.info("request", extra=told)
        return response
