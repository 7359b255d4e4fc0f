"""The guide to the API as a plain page, drawn from the document that programs read."""

from itertools import groupby
from typing import Any

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from athletes.tokens.models import Area
from coachdesk.api.views import document

METHODS = ("get", "post", "put", "patch", "delete")


@login_required
@require_safe
def api_docs(request: HttpRequest) -> HttpResponse:
    read = document()
    schemas = read["components"]["schemas"]
    operations = [
        _operation(path, method, item[method], schemas)
        for path, item in read["paths"].items()
        for method in METHODS
        if method in item
    ]
    operations.sort(key=lambda one: one["tag"])
    sections = [(tag, list(own)) for tag, own in groupby(operations, key=lambda one: one["tag"])]
    return render(request, "coachdesk/api.html", {"sections": sections, "areas": Area})


def _operation(path: str, method: str, said: dict[str, Any], schemas: dict[str, Any]) -> dict:
    body = said.get("requestBody", {}).get("content", {}).get("application/json", {})
    query = [one for one in said.get("parameters", []) if one["in"] == "query"]
    good = next((code for code in said["responses"] if code.startswith("2")), "")
    answer = said["responses"].get(good, {}).get("content", {}).get("application/json", {})
    return {
        "id": said["operationId"],
        "tag": said["tags"][0],
        "method": method.upper(),
        "path": path,
        "about": said.get("description", ""),
        "query": [(one["name"], _kind(one["schema"])) for one in query],
        "body": _fields(body.get("schema", {}), schemas),
        "answer": _fields(answer.get("schema", {}), schemas),
        "status": good,
    }


def _named(schema: dict[str, Any], schemas: dict[str, Any]) -> dict[str, Any]:
    reference = schema.get("$ref", "")
    return schemas[reference.rsplit("/", 1)[1]] if reference else schema


def _fields(schema: dict[str, Any], schemas: dict[str, Any]) -> list[tuple[str, str, bool]]:
    """(name, kind, whether it must be there) of an object, or of the members of a list; of a choice
    of objects, the fields of each by its name."""
    schema = _named(schema, schemas)
    if "oneOf" in schema:
        each = [(_named(one, schemas), _kind(one)) for one in schema["oneOf"]]
        return [(name, ", ".join(one.get("properties", {})), False) for one, name in each]
    if "results" in schema.get("properties", {}):  # a page of a list
        schema = schema["properties"]["results"]
    if schema.get("type") == "array":
        schema = _named(schema["items"], schemas)
    must = schema.get("required", [])
    return [(name, _kind(of), name in must) for name, of in schema.get("properties", {}).items()]


def _kind(schema: dict[str, Any]) -> str:
    """A field's kind in a few words."""
    if reference := schema.get("$ref"):
        return str(reference.rsplit("/", 1)[1])
    for several in ("oneOf", "anyOf", "allOf"):
        if several in schema:
            return " or ".join(filter(None, map(_kind, schema[several])))
    if "enum" in schema:
        return ", ".join(str(value) for value in schema["enum"] if value)
    kind = schema.get("type", "")
    words = " or ".join(kind) if isinstance(kind, list) else str(kind)
    if words == "array":
        return f"list of {_kind(schema['items'])}"
    return schema.get("format", words)
