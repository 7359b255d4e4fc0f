"""The OpenAPI document: what every operation shares."""

from typing import Any

from drf_spectacular.extensions import OpenApiAuthenticationExtension

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


class BearerScheme(OpenApiAuthenticationExtension):
    """How the OpenAPI document names it."""

    target_class = "coachdesk.api.authentication.BearerAuthentication"
    name = "token"

    def get_security_definition(self, auto_schema: object) -> dict[str, str]:
        return {"type": "http", "scheme": "bearer"}
