"""Words for the shapes of JSON (JSON Schema 2020-12, as OpenAPI 3.1 has it)."""

from typing import Any

Shape = dict[str, Any]

TEXT: Shape = {"type": "string"}
WHOLE: Shape = {"type": "integer"}
NUMBER: Shape = {"type": "number"}
TRUTH: Shape = {"type": "boolean"}
UUID: Shape = {"type": "string", "format": "uuid"}
MOMENT: Shape = {"type": "string", "format": "date-time"}
DAY: Shape = {"type": "string", "format": "date"}


def thing(**properties: Shape) -> Shape:
    """An object with all of these and nothing else."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def many(of: Shape) -> Shape:
    return {"type": "array", "items": of}


def maybe(of: Shape) -> Shape:
    """Of this shape, or null."""
    if set(of) <= {"type", "format"}:
        return {**of, "type": [of["type"], "null"]}
    return {"oneOf": [of, {"type": "null"}]}


def either(*values: str) -> Shape:
    return {"type": "string", "enum": list(values)}


def by_name(of: Shape) -> Shape:
    """An object with a value of one shape under each name."""
    return {"type": "object", "additionalProperties": of}
