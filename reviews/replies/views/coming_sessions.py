"""The athlete's sessions to come, beside the reply that may change them."""

from datetime import timedelta
from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.local_time import today_of
from athletes.permissions import coach_required, signed_in
from programming.corrections.preview import coming
from programming.corrections.snapshots import snapshot
from programming.corrections.summaries import summarize
from programming.plans.selectors.loads import loads_of
from reviews.permissions import submissions_reviewable_by
from reviews.replies.selectors.programme_changes import standing_reasons

MOST = 4  # sessions: the week ahead of most lifters
AHEAD = timedelta(weeks=3)


@coach_required
@require_GET
def sessions(request: HttpRequest, pk: UUID) -> HttpResponse:
    """A part of the workbench; a bounded number of statements."""
    coach = signed_in(request)
    mine = submissions_reviewable_by(coach).select_related("athlete")
    submission = get_object_or_404(mine, pk=pk)
    athlete = submission.athlete
    today = today_of(athlete)
    loads = loads_of(athlete)
    rows = [
        {
            "session": session,
            "lines": [
                {
                    "summary": summarize(
                        snapshot(line),
                        movement=line.movement.name,
                        loads=loads,
                        day=today,
                        unit=coach.unit,
                    ),
                    "changed": bool(line.running),
                }
                for line in session.prescriptions.all()
            ],
        }
        for session in coming(athlete, today=today, until=today + AHEAD)[:MOST]
    ]
    context = {"submission": submission, "rows": rows, "reasons": standing_reasons(submission)}
    return render(request, "reviews/corrections/parts/coming.html", context)
