"""Claims over REST, for the workbench."""

from typing import Any
from uuid import UUID

from django.shortcuts import get_object_or_404
from rest_framework.request import Request
from rest_framework.response import Response
from rest_framework.views import APIView

from athletes.permissions import signed_in
from reviews.desk.claiming import claim, release
from reviews.desk.models import Claim
from reviews.intake.models import Submission
from reviews.permissions import submissions_reviewable_by


def _submission(request: Request, pk: UUID) -> Submission:
    return get_object_or_404(submissions_reviewable_by(signed_in(request)), pk=pk)


def _said(row: Claim) -> dict[str, Any]:
    return {"coach": row.coach.name, "taken_at": row.taken_at, "until": row.until}


class ClaimView(APIView):
    """POST claims it, or renews the claim: {"coach", "taken_at", "until"}; 409 if it is held,
    or waits on the athlete."""

    def post(self, request: Request, pk: UUID) -> Response:
        submission = _submission(request, pk)
        return Response(_said(claim(submission=submission, coach=signed_in(request))))


class ReleaseView(APIView):
    """POST gives it back: {"released": whether this coach held it}."""

    def post(self, request: Request, pk: UUID) -> Response:
        submission = _submission(request, pk)
        return Response({"released": release(submission=submission, coach=signed_in(request))})
