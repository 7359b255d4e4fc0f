"""The coach's workbench: the page. Claiming is a POST, from the desk or from here."""

from uuid import UUID

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.permissions import coach_required, signed_in
from reviews.desk.looking import query
from reviews.intake.clip_data import table_at_hand
from reviews.permissions import submissions_reviewable_by
from reviews.replies.schemas.review import review_data
from reviews.replies.selectors.follow_up import earlier_version
from reviews.replies.selectors.reviews import review_of


@coach_required
@require_GET
def workbench(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Open a submission to answer it or to read along. Opening takes nothing: a browser that
    fetches ahead, or a reload, must not lock out another coach."""
    coach = signed_in(request)
    mine = submissions_reviewable_by(coach).select_related("athlete", "pain")
    submission = get_object_or_404(mine, pk=pk)
    review = review_of(submission, coach)
    data = review_data(review)
    for name in ("desk", "next"):
        data["urls"][name] += query(request)
    shown = zip(review.clips, data["clips"], strict=True)
    clip, on_stage = next((one for one in shown if one[1]["id"] == data["opens_on"]), (None, None))
    facts = {
        "submission": submission,
        "workbench": data,
        "on_stage": on_stage,
        "table": clip and table_at_hand(clip),
        "earlier": earlier_version(submission),
    }
    return render(request, "reviews/workbench/page.html", facts)
