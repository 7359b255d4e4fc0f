"""Cells of the grid over REST: what was typed goes in, the cells as they now stand come out."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from django.template.loader import render_to_string
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from programming.permissions import programmes_editable_by
from programming.plans.grid import grid_of, unit_for
from programming.plans.prescribing import Cell, write_cells


class CellIn(serializers.Serializer):
    session = serializers.UUIDField()
    row = serializers.UUIDField()
    text = serializers.CharField(allow_blank=True, max_length=120)
    note = serializers.CharField(allow_blank=True, required=False, default=None, max_length=300)


class CellsIn(serializers.Serializer):
    """``seen``: the revision of the programme that the page shows."""

    seen = serializers.IntegerField(min_value=1)
    cells = CellIn(many=True, allow_empty=False, max_length=400)  # type: ignore[call-arg]


class CellsView(APIView):
    """PATCH: ``{"seen": 7, "cells": [{"session", "row", "text": "3x5 @ 82.5%"}]}``; an empty text
    clears a cell. Answers the new ``revision``; ``cells``: each of the touched rows by
    "session:row", with ``text``, ``kg``, ``how`` and ``html``; ``sets`` of each week; ``refused``:
    a sentence for each cell that stays as it was."""

    def patch(self, request: Request, pk: UUID) -> Response:
        user = signed_in(request)
        mine = programmes_editable_by(user).select_related("athlete")
        programme = get_object_or_404(mine, pk=pk)
        unit = unit_for(programme, user)
        sent = CellsIn(data=request.data)
        sent.is_valid(raise_exception=True)
        cells = [Cell(**dict(cell)) for cell in sent.validated_data["cells"]]
        written = write_cells(
            programme=programme, seen=sent.validated_data["seen"], cells=cells, unit=unit
        )
        grid = grid_of(written.programme, unit=unit)
        drawn = grid.cells(cell.row for cell in cells)
        return Response(
            {
                "revision": written.programme.revision,
                "cells": {cell.key: _json(cell, unit) for cell in drawn if cell.session},
                "sets": {week.number: week.sets for week in grid.weeks},
                "refused": {f"{s}:{row}": why for (s, row), why in written.refused.items()},
            }
        )


def _json(cell: Any, unit: str) -> dict[str, Any]:
    kg = cell.resolved.kg if cell.resolved else None
    context = {"cell": cell, "unit": unit}
    return {
        "text": cell.text,
        "kg": None if kg is None else str(kg),
        "how": cell.resolved.how if cell.resolved else "",
        "html": render_to_string("programming/plans/parts/cell.html", context).strip(),
    }
