"""Errors of the API as problem details (RFC 9457)."""

from http.client import responses
from typing import Any

from django.http import HttpResponse, JsonResponse
from rest_framework.exceptions import APIException, ValidationError
from rest_framework.response import Response
from rest_framework.views import exception_handler

from coachdesk.common.errors import DomainError, Invalid

KIND = "application/problem+json"


def _sentence(data: Any) -> str:
    """The first sentence in an error body, however deep it lies."""
    while isinstance(data, (dict, list)) and data:
        data = next(iter(data.values())) if isinstance(data, dict) else data[0]
    return str(data) if data else ""


def _api_exception(error: DomainError) -> APIException:
    """The one mapping of what use cases refuse."""
    errors = error.errors if isinstance(error, Invalid) else None
    exception = ValidationError(errors) if errors else APIException(str(error))
    exception.status_code = error.status
    return exception


def problem_response(exc: Exception, context: dict[str, Any]) -> Response | None:
    """REST framework's exception handler: the same answer, in the shape of RFC 9457."""
    if isinstance(exc, DomainError):
        exc = _api_exception(exc)
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
