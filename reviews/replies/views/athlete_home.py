"""The athlete's own pages: today, and every reply."""

from datetime import date

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_GET

from athletes.local_time import today_of
from athletes.permissions import has_coach, signed_in
from reviews.replies.selectors.check_backs import check_backs_to_come
from reviews.replies.selectors.reviews import answered_for, read_by
from reviews.replies.services.programme_notices import unread_notices
from reviews.replies.submission_rows import SubmissionRow

LATEST = 60  # submissions that today looks at; the list of replies has them all


@login_required
@require_GET
def athlete_home(request: HttpRequest) -> HttpResponse:
    """What a lifter opens between sets: the newest answer, what to film, what is waiting."""
    reader = signed_in(request)
    if reader.is_coach:
        return redirect("desk")
    lines = [SubmissionRow(submission) for submission in read_by(reader)[:LATEST]]
    context = {
        "today": today_of(reader),
        "unread": [line for line in lines if line.unread],
        "asked": any(line.asked for line in lines),
        "wrote_back": [line for line in lines if line.wrote_back],
        "film": sorted((line for line in lines if line.to_film), key=_by_day),
        "open": [line for line in lines if line.is_open],
        "drafts": [line for line in lines if line.submission.is_draft],
        "notices": unread_notices(reader),
        "checks": check_backs_to_come([reader]),
        "empty": not lines,
        "has_coach": has_coach(reader),
    }
    return render(request, "reviews/replies/home.html", context)


def _by_day(line: SubmissionRow) -> date:
    return line.film_by or date.max


@login_required
@require_GET
def replies(request: HttpRequest) -> HttpResponse:
    """Every answer, the newest first."""
    reader = signed_in(request)
    if reader.is_coach:
        return redirect("desk")
    lines = [SubmissionRow(submission) for submission in answered_for(reader)]
    return render(request, "reviews/replies/replies.html", {"lines": lines})
