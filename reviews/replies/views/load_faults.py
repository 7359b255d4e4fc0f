"""An athlete's faults on the time axis of the load page, which knows nothing of replies."""

from datetime import UTC, date, datetime, time

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.permissions import signed_in
from programming.permissions import athletes_readable_by
from reviews.replies.selectors.athlete_faults import faults_sent_since


@login_required
@require_GET
def faults(request: HttpRequest, pk: int) -> HttpResponse:
    """``from`` is the first day of the chart, ISO. Who may open the load page may read it: the
    athlete and the club's coaches."""
    athlete = get_object_or_404(athletes_readable_by(signed_in(request)), pk=pk)
    told = faults_sent_since(athlete, _day(request.GET.get("from", "")))
    events = [
        {"told": one, "at": int(datetime.combine(one.day, time.min, UTC).timestamp())}
        for one in told
    ]
    return render(request, "reviews/replies/parts/load_faults.html", {"events": events})


def _day(asked: str) -> date:
    try:
        return date.fromisoformat(asked)
    except ValueError as wrong:
        raise Http404 from wrong
