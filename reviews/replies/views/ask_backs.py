"""Ask-backs on the coach's desk: a part of that page, and setting one aside."""

from uuid import UUID

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_POST

from athletes.local_time import today_of
from athletes.permissions import coach_required, people_visible_to, signed_in
from reviews.permissions import submissions_reviewable_by
from reviews.replies.selectors.check_backs import due, to_check
from reviews.replies.selectors.open_threads import asked_back
from reviews.replies.services.send_message import set_aside


@coach_required
@require_GET
def asked(request: HttpRequest) -> HttpResponse:
    """The desk loads it: this wing stands behind the desk's, which knows nothing of replies."""
    coach = signed_in(request)
    overdue = due(to_check(people_visible_to(coach)), today_of(coach))
    facts = {"threads": asked_back(coach), "overdue": overdue}
    return render(request, "reviews/replies/parts/asked_back.html", facts)


@coach_required
@require_POST
def nothing_to_answer(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Read, and no answer is needed."""
    coach = signed_in(request)
    found = get_object_or_404(submissions_reviewable_by(coach), pk=pk)
    set_aside(coach=coach, submission=found)
    messages.success(request, "It stands on the desk no longer. Nothing was sent.")
    return redirect("submission", found.pk)
