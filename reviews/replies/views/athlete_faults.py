"""An athlete's faults beside their file: a part of that page, which knows nothing of replies."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.permissions import coach_required, signed_in
from programming.permissions import athletes_coached_by
from reviews.replies.selectors.athlete_faults import athlete_faults


@coach_required
@require_GET
def faults(request: HttpRequest, pk: int) -> HttpResponse:
    athlete = get_object_or_404(athletes_coached_by(signed_in(request)), pk=pk)
    facts = {"athlete": athlete, "faults": athlete_faults(athlete)}
    return render(request, "reviews/replies/parts/athlete_faults.html", facts)
