"""Errors of the API as problem details (RFC 9457)."""

from http.client import responses
from typing import Any

from django.http import HttpResponse, JsonResponse
from rest_framework.exceptions import ValidationError
from rest_framework.response import Response
from rest_framework.views import exception_handler

KIND = "application/problem+json"


def _sentence(data: Any) -> str:
    """The first sentence in an error body, however deep it lies."""
    while isinstance(data, (dict, list)) and data:
        data = next(iter(data.values())) if isinstance(data, dict) else data[0]
    return str(data) if data else ""


def problem_response(exc: Exception, context: dict[str, Any]) -> Response | None:
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
