"""The OpenAPI document: what every operation shares."""

from typing import Any

from drf_spectacular.openapi import AutoSchema
from drf_spectacular.plumbing import force_instance
from drf_spectacular.utils import Direction
from rest_framework import serializers

PROBLEM = {
    "type": "object",
    "description": "What went wrong (RFC 9457).",
    "properties": {
        "title": {"type": "string"},
        "status": {"type": "integer"},
        "detail": {"type": "string"},
        "errors": {"description": "For wrong input: sentences by field."},
    },
    "required": ["title", "status", "detail"],
}
REPEAT = {
    "name": "Idempotency-Key",
    "in": "header",
    "required": False,
    "description": "Any text of your own. Repeated with it, the request is answered with the first"
    " answer and does nothing.",
    "schema": {"type": "string", "pattern": "^[A-Za-z0-9_-]{1,128}$"},
}


def with_problems(result: dict[str, Any], **kwargs: Any) -> dict[str, Any]:
    """Every operation may answer a problem; every POST may carry an Idempotency-Key."""
    result.setdefault("components", {}).setdefault("schemas", {})["Problem"] = PROBLEM
    shape = {"schema": {"$ref": "#/components/schemas/Problem"}}
    answer = {
        "description": "Refused, with a sentence.",
        "content": {"application/problem+json": shape},
    }
    for path in result["paths"].values():
        for method, operation in path.items():
            operation["responses"]["4XX"] = answer
            if method == "post":
                operation.setdefault("parameters", []).append(REPEAT)
    return result


class OperationSchema(AutoSchema):
    """One serializer may be what comes in and what goes out: a request leaves out what has a
    default; an answer holds every field, but for those written ``required=False``, and no other."""

    def get_serializer_name(self, serializer: serializers.Serializer, direction: Direction) -> str:
        return super().get_serializer_name(serializer, direction).removesuffix("Schema")

    def _map_basic_serializer(
        self, serializer: serializers.Serializer, direction: Direction
    ) -> dict[str, Any]:
        shape = super()._map_basic_serializer(serializer, direction)
        if direction == "response" and shape.get("properties"):
            always = sorted(shape["properties"].keys() - _may_be_absent(serializer))
            shape |= {"required": always, "additionalProperties": False}
        return shape


def _may_be_absent(serializer: serializers.Serializer) -> set[str]:
    """A row has all its fields; stored JSON may be older than a field."""
    return {
        name
        for name, field in force_instance(serializer).fields.items()
        if name in serializer._declared_fields
        and not (field.required or field.read_only)
        and field.default is serializers.empty
    }
