"""How views say in the OpenAPI document what they take and answer."""

from typing import Any

from drf_spectacular.utils import OpenApiParameter, extend_schema, inline_serializer
from rest_framework import serializers

CURSOR_PARAMETER = OpenApiParameter("cursor", str, description="From `next` of the page before.")


def list_schema(tag: str, of: type[serializers.Serializer], **more: Any) -> Any:
    """A list by cursor: {next, previous, results}."""
    fields = {
        "next": serializers.URLField(allow_null=True),
        "previous": serializers.URLField(allow_null=True),
        "results": of(many=True),
    }
    page = inline_serializer(f"{of.__name__}Page", fields)
    extra = more.pop("parameters", [])
    return extend_schema(
        tags=[tag], responses={200: page}, parameters=[CURSOR_PARAMETER, *extra], **more
    )


def operation_schema(
    tag: str,
    body: Any = None,
    gives: Any = None,
    status: int = 200,
    more_answers: dict[int, Any] | None = None,
    **more: Any,
) -> Any:
    """One thing in, one thing out; ``status`` 204 for nothing out."""
    answers = {status: gives, **(more_answers or {})}
    return extend_schema(tags=[tag], request=body, responses=answers, **more)
