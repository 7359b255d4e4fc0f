"""REST of the log as a file: out as CSV, and an old log in."""

from typing import Any

from django.http import HttpResponseBase
from django.shortcuts import get_object_or_404
from drf_spectacular.utils import OpenApiResponse, extend_schema
from rest_framework.exceptions import PermissionDenied, ValidationError
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.models import Role
from athletes.permissions import people_visible_to, signed_in
from coachdesk.common.api.file_view import FileView
from coachdesk.common.api.schema import operation_schema
from coachdesk.common.errors import Invalid
from programming.logs.csv.export import file_of
from programming.logs.csv.schemas import ImportIn, ImportOut
from programming.logs.csv.selectors import Preview, preview_of
from programming.logs.csv.services import NEW, import_sessions
from programming.logs.csv.table import MOST_BYTES, TOO_LARGE
from programming.permissions import may_log


class ImportView(APIView):
    """POST reads a CSV and says how; with ``bring_in`` it comes in, whole or not at all (422)."""

    @operation_schema("log", ImportIn, ImportOut)
    def post(self, request: Request) -> Response:
        athlete = signed_in(request)
        if not may_log(athlete):
            raise PermissionDenied("An athlete keeps a log.")
        sent = ImportIn(data=request.data)
        sent.is_valid(raise_exception=True)
        data = sent.validated_data
        if len(data["text"].encode()) > MOST_BYTES:
            raise Invalid(TOO_LARGE)
        reading = {f"column-{n}": field for n, field in enumerate(data.get("columns", []))}
        reading |= {name: data[name] for name in ("dates", "unit") if name in data}
        preview = preview_of(athlete, data["text"], reading)
        chosen = _chosen(preview, data["movements"])
        if data["bring_in"]:
            if preview.missing:
                raise Invalid(f"No column tells the {', the '.join(preview.missing)}.")
            confirmed = data["load_confirmed"]
            import_sessions(
                athlete=athlete, parsed=preview.parsed, chosen=chosen, load_confirmed=confirmed
            )
        return Response({**_read(preview, chosen), "is_in": data["bring_in"]})


def _chosen(preview: Preview, data: dict[str, str]) -> dict[str, str]:
    """Raises ValidationError (400) for a name that is not in the file, or no movement of theirs."""
    offered = {NEW, *(str(one.pk) for one in preview.choices)}
    wrong = {
        name: "Not in the file." if name not in preview.chosen else "No such movement."
        for name, movement in data.items()
        if name not in preview.chosen or movement not in offered
    }
    if wrong:
        raise ValidationError({"movements": wrong})
    return {**preview.chosen, **data}


def _read(preview: Preview, chosen: dict[str, str]) -> dict[str, Any]:
    return {
        "columns": [{"heading": heading, "tells": tells} for _, heading, tells in preview.columns],
        "dates": preview.mapping.dates,
        "unit": preview.mapping.unit,
        "missing": preview.missing,
        "unreadable": [{"line": line, "sentence": sentence} for line, sentence in preview.errors],
        "more_unreadable": preview.errors_more,
        "movements": [
            {"name": one.name, "movement": chosen[one.name], "sets": one.sets}
            for one in preview.named
        ],
        "sessions": preview.new_sessions,
        "body_weights": len(preview.parsed.weights),
        "left_out": preview.left_out,
    }


class ExportView(FileView):
    """The whole log of an athlete as a file; body weights are in it."""

    @extend_schema(tags=["log"], responses={(200, "text/csv"): OpenApiResponse(response=str)})
    def get(self, request: Request, pk: int) -> HttpResponseBase:
        reader = signed_in(request)
        people = people_visible_to(reader).filter(role=Role.ATHLETE)
        return file_of(reader=reader, athlete=get_object_or_404(people, pk=pk))
