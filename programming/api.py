"""What the wings' views share: what a use case refuses becomes an answer."""

from typing import Any

from django.http import Http404
from drf_spectacular.utils import OpenApiParameter
from rest_framework.exceptions import APIException, ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.answers import Unfit, UnfitFields
from coachdesk.common.api.form_serializers import MAX_INT
from programming.refusals import Missing, Refused

ATHLETE = OpenApiParameter("athlete", int, description="Only of this person.")


class UseCaseView(APIView):
    def handle_exception(self, exc: Exception) -> Response:
        if isinstance(exc, Missing):
            exc = Http404()
        elif isinstance(exc, Refused):
            exc = answer_to(exc)
        return super().handle_exception(exc)


def answer_to(refused: Refused) -> APIException:
    if refused.field:
        return UnfitFields({refused.field: [str(refused)]})
    return Unfit(str(refused))


def of_one(rows: Any, request: Request) -> Any:
    """Rows of one athlete, when the address asks for that."""
    asked = request.query_params.get("athlete")
    if asked is None:
        return rows
    if not (asked.isascii() and asked.isdigit() and len(asked) < 11 and int(asked) <= MAX_INT):
        raise ValidationError({"athlete": "The id of a person."})
    return rows.filter(athlete=int(asked))
