"""From a note to the programme over REST: preview, apply; take back or end what holds."""

from datetime import date
from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from rest_framework import serializers
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.api import CoachesOnly
from athletes.local_time import today_of
from athletes.models import User
from athletes.permissions import signed_in
from coachdesk.common.api.form_serializers import MAX_INT, as_form_data, cleaned_data
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from programming.corrections.models import Correction, Kind, Place
from programming.corrections.previewing import Preview, preview
from programming.corrections.wishes import Wish
from programming.permissions import corrections_changeable_by, corrections_visible_to, movements_of
from programming.plans.models import TargetKind
from reviews.permissions import notes_reviewable_by
from reviews.replies.api.workbench import WorkbenchView
from reviews.replies.forms import PARTS, Shared
from reviews.replies.models import Note
from reviews.replies.schemas.stored import SnapshotOut
from reviews.replies.services.apply_correction import Decision, correct
from reviews.replies.services.withdraw_correction import end_correction, take_correction_back


class WishIn(serializers.Serializer[Any]):
    """What the correction page asks; each kind reads its own fields. ``dose`` is written as in the
    programme: 3x5 @ RPE 7. A drill's may have words after it, as the library's doses do: they
    become the note."""

    kind = serializers.ChoiceField(Kind.choices)
    movement = serializers.IntegerField(min_value=1, max_value=MAX_INT)
    weeks = serializers.ChoiceField([1, 2, 3, 4, 8], default=4)
    to = serializers.IntegerField(min_value=1, max_value=MAX_INT, required=False)
    percent = serializers.IntegerField(min_value=1, max_value=100, required=False)
    drill_name = serializers.CharField(max_length=80, required=False)
    name = serializers.CharField(max_length=80, required=False)
    dose = serializers.CharField(max_length=160, required=False)
    place = serializers.ChoiceField(Place.choices, required=False)
    note = serializers.CharField(max_length=300, required=False)
    sets = serializers.IntegerField(min_value=1, max_value=20, required=False)
    reps = serializers.IntegerField(min_value=1, max_value=100, required=False)
    target_kind = serializers.ChoiceField(TargetKind.choices, required=False)
    target = serializers.DecimalField(
        max_digits=7, decimal_places=3, min_value=0, max_value=1000, required=False
    )
    tempo = serializers.CharField(max_length=20, required=False)
    rest_seconds = serializers.IntegerField(min_value=1, max_value=900, required=False)


class ApplyIn(WishIn):
    """``seal``: that of the preview that was looked at."""

    seal = serializers.RegexField("^[0-9a-f]{64}$")
    check_back_on = serializers.DateField(allow_null=True, default=None)
    leave_clashes = serializers.BooleanField(default=False)


class LineOut(serializers.Serializer[Any]):
    session = serializers.UUIDField()
    day = serializers.DateField()
    prescription = serializers.UUIDField(allow_null=True)
    before = SnapshotOut(allow_null=True)
    after = SnapshotOut()
    happens = serializers.BooleanField()
    clashes = serializers.ListField(child=serializers.CharField())


class PreviewOut(serializers.Serializer[Any]):
    seal = serializers.CharField()
    said = serializers.CharField()
    lines = LineOut(many=True)


class CorrectionOut(serializers.ModelSerializer[Correction]):
    class Meta:
        model = Correction
        fields = [
            *("id", "athlete", "kind", "said", "made_by", "made_at"),
            *("check_back_on", "taken_back_at", "ended_on"),
        ]


class EndCorrectionIn(serializers.Serializer[Any]):
    from_day = serializers.DateField()


class ChangingView(CoachesOnly):
    def note(self, pk: UUID) -> Note:
        notes = notes_reviewable_by(signed_in(self.request))
        return get_object_or_404(notes.select_related("clip__submission__athlete"), pk=pk)


def _wish(sent: dict[str, Any], athlete: User, coach: User) -> Wish:
    """By the page's own forms."""
    kind = sent["kind"]
    shared_names = ("kind", "movement", "weeks")
    own = {f"{kind}-{name}": value for name, value in sent.items() if name not in shared_names}
    data = as_form_data({**{name: sent[name] for name in shared_names}, **own})
    mine = movements_of(athlete)
    shared = Shared(data, movements=mine, today=today_of(athlete))
    part = next(one for one in PARTS if one.kind == kind)(data, movements=mine)
    cleaned_data(shared)
    cleaned_data(part)
    return part.wish(shared, coach.unit)


def _preview_json(shown: Preview) -> dict[str, Any]:
    lines = [
        {
            "session": line.session.pk,
            "day": line.session.day,
            "prescription": line.prescription.pk if line.prescription else None,
            "before": line.before,
            "after": line.after,
            "happens": line.happens,
            "clashes": [clash.said for clash in line.clashes],
        }
        for line in shown.lines
    ]
    return {"seal": shown.seal, "said": shown.wish.said, "lines": lines}


class PreviewView(ChangingView):
    """POST: what a correction would change, prescription by prescription. Nothing is changed."""

    @operation_schema("corrections", WishIn, PreviewOut)
    def post(self, request: Request, note_id: UUID) -> Response:
        athlete = self.note(note_id).clip.submission.athlete
        sent = WishIn(data=request.data)
        sent.is_valid(raise_exception=True)
        wish = _wish(sent.validated_data, athlete, signed_in(request))
        return Response(_preview_json(preview(athlete, wish, today=today_of(athlete))))


class ApplyView(ChangingView):
    """POST applies what a preview showed: whole or not at all."""

    @operation_schema("corrections", ApplyIn, CorrectionOut, 201)
    def post(self, request: Request, note_id: UUID) -> Response:
        note = self.note(note_id)
        sent = ApplyIn(data=request.data)
        sent.is_valid(raise_exception=True)
        told = dict(sent.validated_data)
        rest = {name: told.pop(name) for name in ("seal", "check_back_on", "leave_clashes")}
        coach = signed_in(request)
        wish = _wish(told, note.clip.submission.athlete, coach)
        made = correct(coach=coach, note=note, decision=Decision(wish=wish, **rest))
        return Response(CorrectionOut(made).data, status=201)


class CorrectionsView(WorkbenchView):
    """An athlete's own, or those of the club; the newest first."""

    @list_schema("corrections", CorrectionOut, operation_id="corrections_list")
    def get(self, request: Request) -> Response:
        rows = corrections_visible_to(signed_in(request))
        return paginated_response(rows, CorrectionOut, request=request, view=self, by="-made_at")


class UndoingView(ChangingView):
    def correction(self, pk: UUID) -> Correction:
        mine = corrections_changeable_by(signed_in(self.request)).select_related("athlete")
        return get_object_or_404(mine, pk=pk)

    def answer(self, correction: Correction) -> Response:
        correction.refresh_from_db()
        return Response(CorrectionOut(correction).data)


class TakeBackView(UndoingView):
    """POST: the sessions to come read as before it. 422 once a set of it was trained."""

    @operation_schema("corrections", gives=CorrectionOut)
    def post(self, request: Request, pk: UUID) -> Response:
        found = self.correction(pk)
        take_correction_back(coach=signed_in(request), correction=found)
        return self.answer(found)


class EndView(UndoingView):
    """POST: from a day on it no longer holds; what lies before stays."""

    @operation_schema("corrections", EndCorrectionIn, CorrectionOut)
    def post(self, request: Request, pk: UUID) -> Response:
        found = self.correction(pk)
        sent = EndCorrectionIn(data=request.data)
        sent.is_valid(raise_exception=True)
        day: date = sent.validated_data["from_day"]
        end_correction(coach=signed_in(request), correction=found, from_day=day)
        return self.answer(found)
