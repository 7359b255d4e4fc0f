"""REST of merging two entries that mean the same."""

from collections.abc import Sequence
from typing import Any

from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.permissions import signed_in
from coachdesk.common.api.form_serializers import MAX_INT, validated_data
from coachdesk.common.api.schema import operation_schema
from reviews.library import merging_hung
from reviews.library.entries_api import (
    SHAPES,
    CueOut,
    DrillOut,
    FaultOut,
    HangingView,
    LibraryEntryView,
)
from reviews.library.merging import Hung, merge, partners_of, preview
from reviews.library.models import Fault


class MergeIn(serializers.Serializer[Any]):
    into = serializers.IntegerField(min_value=1, max_value=MAX_INT)


class MergeOut(serializers.Serializer[Any]):
    """Names: what would move to the one that stays, and what is there in the same words."""

    moving = serializers.ListField(child=serializers.CharField())
    doubled = serializers.ListField(child=serializers.CharField())


class SpreadOut(serializers.Serializer[Any]):
    """Names of faults: on which the one that stays would hang too, and on which both hang now."""

    gained = serializers.ListField(child=serializers.CharField())
    already = serializers.ListField(child=serializers.CharField())


INTO = OpenApiParameter(
    "into", {"type": "integer", "minimum": 1, "maximum": MAX_INT}, required=True
)


def _chosen(partners: Sequence[Any], told: Any, otherwise: str) -> Any:
    """The partner that `into` names; 400 with the sentence ``otherwise``."""
    sent = validated_data(MergeIn, told)
    found = next((one for one in partners if one.pk == sent["into"]), None)
    if found is None:
        raise ValidationError({"into": otherwise})
    return found


class MergeFaultView(LibraryEntryView):
    """GET says what a merge would do, POST does it: this one is retired and points at ``into``,
    whose id and words are used from then on."""

    @operation_schema("library", gives=MergeOut, parameters=[INTO])
    def get(self, request: Request, pk: int) -> Response:
        fault, into = self._both(pk, request.query_params.dict())
        found = preview(fault=fault, into=into)
        doubled = [str(row) for row, _ in found.doubled]
        return Response({"moving": [str(row) for row in found.moving], "doubled": doubled})

    @operation_schema("library", MergeIn, FaultOut)
    def post(self, request: Request, pk: int) -> Response:
        fault, into = self._both(pk, request.data)
        kept = merge(fault=fault, into=into, by=signed_in(request))
        return Response(FaultOut(kept).data)

    def _both(self, pk: int, told: Any) -> tuple[Fault, Fault]:
        fault = self.fault(pk)
        otherwise = "Choose a fault of this lift that is still offered."
        return fault, _chosen(partners_of(fault), told, otherwise)


class MergeHungView(HangingView):
    """GET says on which faults the one that stays would hang, POST merges: this one is retired and
    points at ``into``, whose id, words and dose are used from then on."""

    http_method_names = ["get", "post", "options"]

    def get(self, request: Request, pk: int, entry: int) -> Response:
        row, into = self._both(pk, entry, request.query_params.dict())
        found = merging_hung.preview(entry=row, into=into)
        gained, already = ([str(one) for one in some] for some in (found.gained, found.already))
        return Response({"gained": gained, "already": already})

    def post(self, request: Request, pk: int, entry: int) -> Response:
        row, into = self._both(pk, entry, request.data)
        kept = merging_hung.merge(entry=row, into=into, by=signed_in(request))
        return Response(SHAPES[self.kind](kept).data)

    def _both(self, pk: int, entry: int, told: Any) -> tuple[Hung, Hung]:
        _, row = self.entry(pk, entry)
        otherwise = f"Choose a {row._meta.verbose_name} that is still offered."
        return row, _chosen(merging_hung.partners_of(row), told, otherwise)


class MergeCueView(MergeHungView):
    kind = "cues"

    @operation_schema("library", gives=SpreadOut, parameters=[INTO])
    def get(self, request: Request, pk: int, entry: int) -> Response:
        return super().get(request, pk, entry)

    @operation_schema("library", MergeIn, CueOut)
    def post(self, request: Request, pk: int, entry: int) -> Response:
        return super().post(request, pk, entry)


class MergeDrillView(MergeHungView):
    kind = "drills"

    @operation_schema("library", gives=SpreadOut, parameters=[INTO])
    def get(self, request: Request, pk: int, entry: int) -> Response:
        return super().get(request, pk, entry)

    @operation_schema("library", MergeIn, DrillOut)
    def post(self, request: Request, pk: int, entry: int) -> Response:
        return super().post(request, pk, entry)
