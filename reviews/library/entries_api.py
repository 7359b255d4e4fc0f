"""REST of the library's entries, by the forms of its pages."""

from typing import Any

from django.db import IntegrityError, transaction
from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.api import CoachesOnly
from athletes.permissions import signed_in
from coachdesk.common.api.form_serializers import (
    as_form_data,
    cleaned_data,
    form_serializer,
    validated_data,
)
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from coachdesk.common.errors import Conflict
from programming.movements.families import Family
from reviews.intake.models import View
from reviews.library.forms import CueForm, DrillForm, FaultForm
from reviews.library.keeping import bring_back, keep, keep_under, retire
from reviews.library.models import Cue, Drill, Fault, Sight
from reviews.library.queries import search
from reviews.permissions import library_of

SIGHTS = {
    f"sight_{view.value}": serializers.ChoiceField(Sight.choices, default=Sight.NO) for view in View
}
FaultIn = form_serializer("FaultIn", FaultForm, **SIGHTS)
FORMS: dict[str, Any] = {"cues": CueForm, "drills": DrillForm}
CueIn, DrillIn = form_serializer("CueIn", CueForm), form_serializer("DrillIn", DrillForm)
BODIES: dict[str, Any] = {"cues": CueIn, "drills": DrillIn}


class CueOut(serializers.ModelSerializer[Cue]):
    class Meta:
        model = Cue
        fields = ["id", "text", "outside_focus", "retired_at", "merged_into"]


class DrillOut(serializers.ModelSerializer[Drill]):
    class Meta:
        model = Drill
        fields = ["id", "name", "dose", "retired_at", "merged_into"]


class FaultOut(serializers.ModelSerializer[Fault]):
    sight = serializers.DictField(child=serializers.ChoiceField(Sight.choices))
    cues = CueOut(many=True)
    drills = DrillOut(many=True)

    class Meta:
        model = Fault
        fields = [
            *("id", "family", "phase", "name", "see", "sight", "causes", "breaks", "breaks_note"),
            *("goal_note", "retired_at", "merged_into", "cues", "drills"),
        ]


class FindIn(serializers.Serializer[Any]):
    """``q``: words, each in the name or in a live cue or drill."""

    q = serializers.CharField(max_length=80, required=False)
    family = serializers.ChoiceField(Family.choices, required=False)


SHAPES: dict[str, Any] = {"cues": CueOut, "drills": DrillOut}


class LibraryEntryView(CoachesOnly):
    def fault(self, pk: int) -> Fault:
        return get_object_or_404(library_of(signed_in(self.request)), pk=pk)

    def saved(self, form: FaultForm) -> Fault:
        cleaned_data(form)
        entry: Fault = form.save(commit=False)
        try:
            with transaction.atomic():
                keep(entry=entry, by=signed_in(self.request))
        except IntegrityError:  # two coaches add the same name at once
            raise Conflict("Somebody has just added this name.") from None
        return entry


class FaultsView(LibraryEntryView):
    """All of the club, retired ones too, in the order they were added. POST adds one."""

    @list_schema("library", FaultOut, operation_id="faults_list", parameters=[FindIn])
    def get(self, request: Request) -> Response:
        asked = validated_data(FindIn, request.query_params.dict())
        rows = search(library_of(signed_in(request)), asked.get("q", ""))
        if "family" in asked:
            rows = rows.filter(family=asked["family"])
        rows = rows.prefetch_related("cues", "drills")
        return paginated_response(rows, FaultOut, request=request, view=self, by="added_at")

    @operation_schema("library", FaultIn, FaultOut, 201)
    def post(self, request: Request) -> Response:
        data = as_form_data(validated_data(FaultIn, request.data))
        fresh = Fault(club_id=signed_in(request).club_id)
        made = self.saved(FaultForm(data, instance=fresh))
        return Response(FaultOut(made).data, status=201)


class FaultView(LibraryEntryView):
    @operation_schema("library", gives=FaultOut)
    def get(self, request: Request, pk: int) -> Response:
        return Response(FaultOut(self.fault(pk)).data)

    @operation_schema("library", FaultIn, FaultOut)
    def patch(self, request: Request, pk: int) -> Response:
        """Only what is sent changes. Notes already sent keep the words they had."""
        fault = self.fault(pk)
        sent = validated_data(FaultIn, request.data, partly=True)
        now = {name: getattr(fault, name) for name in FaultForm.Meta.fields}
        now |= {f"sight_{view.value}": fault.sight.get(view.value, Sight.NO) for view in View}
        made = self.saved(FaultForm(as_form_data({**now, **sent}), instance=fault))
        return Response(FaultOut(made).data)


class FaultStandingView(LibraryEntryView):
    """POST retires it (offered no longer), or brings it back."""

    @operation_schema("library", gives=FaultOut)
    def post(self, request: Request, pk: int, standing: str) -> Response:
        fault = self.fault(pk)
        retire(entry=fault) if standing == "retire" else bring_back(entry=fault)
        return Response(FaultOut(fault).data)


class HangingsView(LibraryEntryView):
    """POST hangs a cue (``text``) or a drill (``name``, ``dose``) on a fault."""

    kind = ""

    def post(self, request: Request, pk: int) -> Response:
        fault = self.fault(pk)
        form = FORMS[self.kind](as_form_data(validated_data(BODIES[self.kind], request.data)))
        cleaned_data(form)
        entry = form.save(commit=False)
        keep_under(entry=entry, fault=fault, by=signed_in(request))
        return Response(SHAPES[self.kind](entry).data, status=201)


class HangingView(LibraryEntryView):
    """PATCH changes its words. Notes already sent keep those they had."""

    kind = ""

    def entry(self, pk: int, entry: int) -> tuple[Fault, Any]:
        fault = self.fault(pk)
        return fault, get_object_or_404(getattr(fault, self.kind), pk=entry)

    def patch(self, request: Request, pk: int, entry: int) -> Response:
        fault, row = self.entry(pk, entry)
        sent = validated_data(BODIES[self.kind], request.data, partly=True)
        names = FORMS[self.kind].Meta.fields
        now = {name: getattr(row, name) for name in names}
        form = FORMS[self.kind](as_form_data({**now, **sent}), instance=row)
        cleaned_data(form)
        changed = form.save(commit=False)
        keep_under(entry=changed, fault=fault, by=signed_in(request))
        return Response(SHAPES[self.kind](changed).data)


class HangingStandingView(HangingView):
    """POST retires it, or brings it back."""

    http_method_names = ["post", "options"]

    def post(self, request: Request, pk: int, entry: int, standing: str) -> Response:
        _, row = self.entry(pk, entry)
        retire(entry=row) if standing == "retire" else bring_back(entry=row)
        return Response(SHAPES[self.kind](row).data)


class CuesView(HangingsView):
    kind = "cues"

    @operation_schema("library", CueIn, CueOut, 201)
    def post(self, request: Request, pk: int) -> Response:
        return super().post(request, pk)


class DrillsView(HangingsView):
    kind = "drills"

    @operation_schema("library", DrillIn, DrillOut, 201)
    def post(self, request: Request, pk: int) -> Response:
        return super().post(request, pk)


class CueView(HangingView):
    kind = "cues"

    @operation_schema("library", CueIn, CueOut)
    def patch(self, request: Request, pk: int, entry: int) -> Response:
        return super().patch(request, pk, entry)


class DrillView(HangingView):
    kind = "drills"

    @operation_schema("library", DrillIn, DrillOut)
    def patch(self, request: Request, pk: int, entry: int) -> Response:
        return super().patch(request, pk, entry)


class CueStandingView(HangingStandingView):
    kind = "cues"

    @operation_schema("library", gives=CueOut)
    def post(self, request: Request, pk: int, entry: int, standing: str) -> Response:
        return super().post(request, pk, entry, standing)


class DrillStandingView(HangingStandingView):
    kind = "drills"

    @operation_schema("library", gives=DrillOut)
    def post(self, request: Request, pk: int, entry: int, standing: str) -> Response:
        return super().post(request, pk, entry, standing)
