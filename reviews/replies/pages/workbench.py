"""The coach's workbench: the page, and taking what is free by opening it."""

from contextlib import suppress
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.permissions import coach_required, signed_in
from reviews.desk.claiming import ClaimedByOther, claim
from reviews.intake.models import State
from reviews.permissions import submissions_reviewable_by
from reviews.replies.workbench_data import workbench_data

OPENING_CLAIMS = {State.WAITING, State.WAITING_ON_ATHLETE}


@coach_required
@require_GET
def workbench(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Open a submission to answer it. What waits is claimed by opening it; what another coach
    holds, and what is answered, is opened to read along."""
    coach = signed_in(request)
    mine = submissions_reviewable_by(coach).select_related("athlete", "pain")
    submission = get_object_or_404(mine, pk=pk)
    if submission.state in OPENING_CLAIMS:
        with suppress(ClaimedByOther):  # the page itself says who has it
            claim(submission=submission, coach=coach)
    facts = {"submission": submission, "workbench": workbench_data(submission, coach)}
    return render(request, "reviews/workbench/page.html", facts)
