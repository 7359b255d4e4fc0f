"""A part of the training page, which may not know of replies itself."""

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.permissions import signed_in
from programming.permissions import movements_visible_to
from reviews.replies.selectors.last_cue import last_cue


@login_required
@require_GET
def cue(request: HttpRequest) -> HttpResponse:
    """The last cue of ``?movement=id`` from the reader's own replies; empty where there is none."""
    reader, asked = signed_in(request), request.GET.get("movement", "")
    if not asked.isdigit():
        raise Http404
    movement = get_object_or_404(movements_visible_to(reader), pk=int(asked))
    found = last_cue(athlete=reader, movement=movement)
    return render(request, "reviews/replies/parts/cue.html", {"cue": found})
