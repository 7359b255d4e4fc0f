"""REST of merging two faults that mean the same."""

from typing import Any

from drf_spectacular.utils import OpenApiParameter
from rest_framework import serializers
from rest_framework.exceptions import ValidationError
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.answers import Unfit
from athletes.bodies import MOST, sent_to
from athletes.documenting import takes
from athletes.permissions import signed_in
from reviews.library.entries_api import FaultOut, LibraryEntryView
from reviews.library.merging import CannotMerge, merge, partners_of, preview
from reviews.library.models import Fault


class MergeIn(serializers.Serializer[Any]):
    into = serializers.IntegerField(min_value=1, max_value=MOST)


class MergeOut(serializers.Serializer[Any]):
    """Names: what would move to the one that stays, and what is there in the same words."""

    moving = serializers.ListField(child=serializers.CharField())
    doubled = serializers.ListField(child=serializers.CharField())


INTO = OpenApiParameter("into", {"type": "integer", "minimum": 1, "maximum": MOST}, required=True)


class MergeFaultView(LibraryEntryView):
    """GET says what a merge would do, POST does it: this one is retired and points at ``into``,
    whose id and words are used from then on."""

    @takes("library", gives=MergeOut, parameters=[INTO])
    def get(self, request: Request, pk: int) -> Response:
        fault, into = self._both(pk, request.query_params.dict())
        found = preview(fault=fault, into=into)
        doubled = [str(row) for row, _ in found.doubled]
        return Response({"moving": [str(row) for row in found.moving], "doubled": doubled})

    @takes("library", MergeIn, FaultOut)
    def post(self, request: Request, pk: int) -> Response:
        fault, into = self._both(pk, request.data)
        try:
            kept = merge(fault=fault, into=into, by=signed_in(request))
        except CannotMerge as why:
            raise Unfit(str(why)) from None
        return Response(FaultOut(kept).data)

    def _both(self, pk: int, told: Any) -> tuple[Fault, Fault]:
        fault = self.fault(pk)
        sent = sent_to(MergeIn, told)
        chosen = [one for one in partners_of(fault) if one.pk == sent["into"]]
        if not chosen:
            raise ValidationError({"into": "Choose a fault of this lift that is still offered."})
        return fault, chosen[0]
