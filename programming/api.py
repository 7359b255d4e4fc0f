"""What the wings' views share."""

from typing import Any

from drf_spectacular.utils import OpenApiParameter
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request

from coachdesk.common.api.form_serializers import MAX_INT

ATHLETE = OpenApiParameter("athlete", int, description="Only of this person.")


def of_one(rows: Any, request: Request) -> Any:
    """Rows of one athlete, when the address asks for that."""
    asked = request.query_params.get("athlete")
    if asked is None:
        return rows
    if not (asked.isascii() and asked.isdigit() and len(asked) < 11 and int(asked) <= MAX_INT):
        raise ValidationError({"athlete": "The id of a person."})
    return rows.filter(athlete=int(asked))
