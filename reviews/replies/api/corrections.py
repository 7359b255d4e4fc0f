"""From a note to the programme over REST: preview, apply; take back or end what holds."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from rest_framework.request import Request
from rest_framework.response import Response

from athletes.api import CoachesOnly
from athletes.local_time import today_of
from athletes.models import User
from athletes.permissions import signed_in
from coachdesk.common.api.pagination import paginated_response
from coachdesk.common.api.schema import list_schema, operation_schema
from programming.corrections.preview import preview
from programming.corrections.requests import Wish
from programming.corrections.selectors import why
from programming.permissions import (
    corrections_changeable_by,
    corrections_visible_to,
    prescriptions_visible_to,
)
from programming.plans.models.correction import Correction, Kind
from reviews.permissions import notes_reviewable_by, submissions_visible_to
from reviews.replies.api.workbench import WorkbenchView
from reviews.replies.models import CorrectionReason, Note
from reviews.replies.schemas.correction import (
    ApplyCorrectionSchema,
    CorrectionRequestSchema,
    CorrectionSchema,
    EndCorrectionSchema,
    PreviewSchema,
    ReasonsSchema,
)
from reviews.replies.services.apply_correction import apply_correction
from reviews.replies.services.read_correction import read_correction
from reviews.replies.services.withdraw_correction import end_correction, take_correction_back


class ChangingView(CoachesOnly, WorkbenchView):
    def note(self, pk: UUID) -> Note:
        notes = notes_reviewable_by(signed_in(self.request))
        return get_object_or_404(notes.select_related("clip__submission__athlete"), pk=pk)


def _wish(values: dict[str, Any], athlete: User, coach: User) -> Wish:
    values["kind"] = Kind(values["kind"])
    return read_correction(today=today_of(athlete), unit=coach.unit, **values)


class PreviewView(ChangingView):
    """POST: what a correction would change, prescription by prescription. Nothing is changed."""

    @operation_schema("corrections", CorrectionRequestSchema, PreviewSchema)
    def post(self, request: Request, note_id: UUID) -> Response:
        athlete = self.note(note_id).clip.submission.athlete
        wish = _wish(
            self.valid(CorrectionRequestSchema, athlete=athlete), athlete, signed_in(request)
        )
        return Response(PreviewSchema(preview(athlete, wish, today=today_of(athlete))).data)


class ApplyView(ChangingView):
    """POST applies what a preview showed: whole or not at all."""

    @operation_schema("corrections", ApplyCorrectionSchema, CorrectionSchema, 201)
    def post(self, request: Request, note_id: UUID) -> Response:
        note = self.note(note_id)
        athlete = note.clip.submission.athlete
        values = self.valid(ApplyCorrectionSchema, athlete=athlete)
        rest = {name: values.pop(name) for name in ("seal", "check_back_on", "leave_clashes")}
        coach = signed_in(request)
        wish = _wish(values, athlete, coach)
        made = apply_correction(coach=coach, note=note, wish=wish, **rest)
        return Response(CorrectionSchema(made).data, status=201)


class CorrectionsView(WorkbenchView):
    """An athlete's own, or those of the club; the newest first."""

    @list_schema("corrections", CorrectionSchema, operation_id="corrections_list")
    def get(self, request: Request) -> Response:
        rows = corrections_visible_to(signed_in(request))
        return paginated_response(rows, CorrectionSchema, request=request, view=self, by="-made_at")


class UndoingView(ChangingView):
    def correction(self, pk: UUID) -> Correction:
        mine = corrections_changeable_by(signed_in(self.request)).select_related("athlete")
        return get_object_or_404(mine, pk=pk)

    def answer(self, correction: Correction) -> Response:
        correction.refresh_from_db()
        return Response(CorrectionSchema(correction).data)


class TakeBackView(UndoingView):
    """POST: the sessions to come read as before it. 422 once a set of it was trained."""

    @operation_schema("corrections", gives=CorrectionSchema)
    def post(self, request: Request, pk: UUID) -> Response:
        found = self.correction(pk)
        take_correction_back(coach=signed_in(request), correction=found)
        return self.answer(found)


class EndView(UndoingView):
    """POST: from a day on it no longer holds; what lies before stays."""

    @operation_schema("corrections", EndCorrectionSchema, CorrectionSchema)
    def post(self, request: Request, pk: UUID) -> Response:
        found = self.correction(pk)
        end_correction(
            coach=signed_in(request), correction=found, **self.valid(EndCorrectionSchema)
        )
        return self.answer(found)


class WhyView(WorkbenchView):
    """Each running correction that changed a prescription, with the note it was made from."""

    @operation_schema("programmes", gives=ReasonsSchema)
    def get(self, request: Request, pk: UUID) -> Response:
        reader = signed_in(request)
        mine = prescriptions_visible_to(reader).select_related("session__programme__athlete")
        corrections = why(get_object_or_404(mine, pk=pk)).select_related("made_by")
        readable = CorrectionReason.objects.filter(
            correction__in=corrections, submission__in=submissions_visible_to(reader)
        )
        context = {"reasons": {reason.correction_id: reason for reason in readable}}
        return Response(ReasonsSchema({"reasons": corrections}, context=context).data)
