"""Errors of the API as problem details (RFC 9457)."""

from http.client import responses
from typing import Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase, JsonResponse
from django.views import defaults
from rest_framework.exceptions import ValidationError
from rest_framework.response import Response
from rest_framework.views import exception_handler

KIND = "application/problem+json"
API = "/api/"


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
    if _by_program(request):
        return problem(500, "Something broke here. It was noted; try again later.")
    return defaults.server_error(request)
