"""Parts of other wings' pages, loaded by their address: those wings know nothing of replies."""

from datetime import UTC, date, datetime, time
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_POST

from athletes.local_time import today_of
from athletes.permissions import coach_required, people_visible_to, signed_in
from programming.permissions import (
    athletes_coached_by,
    athletes_readable_by,
    movements_visible_to,
)
from reviews.permissions import library_of, submissions_reviewable_by
from reviews.replies.selectors.athlete_faults import athlete_faults, faults_sent_since
from reviews.replies.selectors.check_backs import check_backs_to_come, overdue
from reviews.replies.selectors.last_cue import last_cue
from reviews.replies.selectors.open_threads import open_threads
from reviews.replies.selectors.what_works import FEWEST, what_works
from reviews.replies.services.send_message import set_aside


@coach_required
@require_GET
def asked_back(request: HttpRequest) -> HttpResponse:
    """The desk loads it: this wing stands behind the desk's, which knows nothing of replies."""
    coach = signed_in(request)
    late = overdue(check_backs_to_come(people_visible_to(coach)), today_of(coach))
    context = {"threads": open_threads(coach), "overdue": late}
    return render(request, "reviews/replies/parts/asked_back.html", context)


@coach_required
@require_POST
def nothing_to_answer(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Read, and no answer is needed."""
    coach = signed_in(request)
    found = get_object_or_404(submissions_reviewable_by(coach), pk=pk)
    set_aside(coach=coach, submission=found)
    messages.success(request, "It stands on the desk no longer. Nothing was sent.")
    return redirect("submission", found.pk)


@coach_required
@require_GET
def athlete_faults_part(request: HttpRequest, pk: int) -> HttpResponse:
    athlete = get_object_or_404(athletes_coached_by(signed_in(request)), pk=pk)
    context = {"athlete": athlete, "faults": athlete_faults(athlete)}
    return render(request, "reviews/replies/parts/athlete_faults.html", context)


@login_required
@require_GET
def load_faults(request: HttpRequest, pk: int) -> HttpResponse:
    """``from`` is the first day of the chart, ISO. Who may open the load page may read it: the
    athlete and the club's coaches."""
    athlete = get_object_or_404(athletes_readable_by(signed_in(request)), pk=pk)
    faults = faults_sent_since(athlete, _day(request.GET.get("from", "")))
    events = [
        {"told": fault, "at": int(datetime.combine(fault.day, time.min, UTC).timestamp())}
        for fault in faults
    ]
    return render(request, "reviews/replies/parts/load_faults.html", {"events": events})


def _day(asked: str) -> date:
    try:
        return date.fromisoformat(asked)
    except ValueError as wrong:
        raise Http404 from wrong


@coach_required
@require_GET
def what_works_part(request: HttpRequest, pk: int) -> HttpResponse:
    """The library loads it: this wing stands behind the library's."""
    fault = get_object_or_404(library_of(signed_in(request)), pk=pk)
    context = {"works": what_works(fault), "fewest": FEWEST}
    return render(request, "reviews/replies/parts/what_works.html", context)


@login_required
@require_GET
def last_cue_part(request: HttpRequest) -> HttpResponse:
    """The last cue of ``?movement=id`` from the reader's own replies; empty where there is none."""
    reader, asked = signed_in(request), request.GET.get("movement", "")
    if not asked.isdigit():
        raise Http404
    movement = get_object_or_404(movements_visible_to(reader), pk=int(asked))
    found = last_cue(athlete=reader, movement=movement)
    return render(request, "reviews/replies/parts/cue.html", {"cue": found})
