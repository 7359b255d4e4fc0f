"""Errors of the API as problem details (RFC 9457)."""

import sys
from http.client import responses
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase, JsonResponse
from django.middleware.csrf import get_token
from django.template import loader
from django.views import defaults
from rest_framework.exceptions import ValidationError
from rest_framework.response import Response
from rest_framework.views import exception_handler

from reviews.media.machine import part_at_fault

KIND = "application/problem+json"
API = "/api/"
DISK_FULL = "This was not saved. What was saved before is safe."
SECRET = ("password", "code", "credential")


def _sentence(data: Any) -> str:
    """The first sentence in an error body, however deep it lies."""
    while isinstance(data, (dict, list)) and data:
        data = next(iter(data.values())) if isinstance(data, dict) else data[0]
    return str(data) if data else ""


def as_problem(exc: Exception, context: dict[str, Any]) -> Response | None:
    """REST framework's exception handler: the same answer, in the shape of RFC 9457."""
    response = exception_handler(exc, context)
    if response is None:
        return None
    body: dict[str, Any] = {
        # A protocol above HTTP may have statuses of its own (tus has 460).
        "title": responses.get(response.status_code, "Refused"),
        "status": response.status_code,
        "detail": _sentence(response.data),
    }
    if isinstance(exc, ValidationError):
        body["errors"] = response.data
    response.data = body
    response.content_type = KIND
    return response


def problem(status: int, detail: str) -> HttpResponse:
    """A problem from outside REST framework."""
    body = {"title": responses.get(status, "Refused"), "status": status, "detail": detail}
    return JsonResponse(body, status=status, content_type=KIND)


def disk_full(request: HttpRequest) -> HttpResponseBase:
    """507 (RFC 4918, section 11.5) instead of 500: what was sent, for a later try. A form goes on
    from the page itself; only what is secret has to be typed again."""
    if _by_program(request):
        return problem(507, f"{DISK_FULL} Try again when there is room.")
    sent = [(name, value) for name, values in request.POST.lists() for value in values]
    secret = any(word in name for name, _ in sent for word in SECRET)
    keep = request.method == "POST" and bool(sent) and not secret and not request.FILES
    page = {
        "csrf_token": get_token(request),
        "sentence": DISK_FULL,
        "fields": [it for it in sent if it[0] != "csrfmiddlewaretoken"] if keep else [],
        "retry": request.get_full_path() if keep else "",
    }
    # Without the request: what a masthead asks for may be what is full.
    return HttpResponse(loader.render_to_string("507.html", page), status=507)


def _by_program(request: HttpRequest) -> bool:
    """At the API's addresses, or with a token at another: clips and uploads have their own."""
    return request.path.startswith(API) or "Authorization" in request.headers


def not_found(request: HttpRequest, exception: Exception) -> HttpResponseBase:
    """404 where no view answers: in words for a program, as a page for a person."""
    if _by_program(request):
        return problem(404, "There is nothing at this address.")
    return defaults.page_not_found(request, exception)


def bad_request(request: HttpRequest, exception: Exception) -> HttpResponseBase:
    if _by_program(request):
        return problem(400, "This request cannot be read.")
    return defaults.bad_request(request, exception)


def server_error(request: HttpRequest) -> HttpResponseBase:
    if part_at_fault(sys.exception()) == "disk":
        return disk_full(request)
    if _by_program(request):
        return problem(500, "Something broke here. It was noted; try again later.")
    return defaults.server_error(request)
