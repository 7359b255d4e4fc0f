"""Bodies of the API: JSON, nested no deeper than anything here is."""

from typing import Any

from rest_framework.exceptions import ParseError
from rest_framework.parsers import JSONParser

MOST_DEPTH = 32
TOO_DEEP = "This JSON is nested too deeply."


class ShallowJSONParser(JSONParser):
    """Refuses what Python could not go through without running out of its stack."""

    def parse(self, stream: Any, media_type: Any = None, parser_context: Any = None) -> Any:
        try:
            data = super().parse(stream, media_type, parser_context)
        except RecursionError as deep:
            raise ParseError(TOO_DEEP) from deep
        if _depth_of(data) > MOST_DEPTH:
            raise ParseError(TOO_DEEP)
        return data


def _depth_of(data: Any) -> int:
    """How many arrays and objects lie inside each other, at most."""
    depth, level = 0, [data]
    while level := [item for item in level if isinstance(item, (dict, list))]:
        depth += 1
        level = [
            inner for item in level for inner in (item.values() if isinstance(item, dict) else item)
        ]
    return depth
