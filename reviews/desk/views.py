"""The coach's desk: the queue as an evening, and taking the next one from it."""

from contextlib import suppress
from uuid import UUID

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_GET, require_POST

from athletes.permissions import coach_required, signed_in
from coachdesk.common.errors import Conflict
from reviews.desk.claiming import claim, claim_next, release
from reviews.desk.evening import LINES_A_PAGE, LONGEST_EVENING, USUAL_EVENING, evening_of
from reviews.desk.forms import EVENINGS, TonightForm
from reviews.desk.looking import looks_at
from reviews.desk.sifting import CHOICES, Sifted
from reviews.permissions import submissions_reviewable_by

TONIGHT = "minutes tonight"  # key in the session
MOST_LINES = 2000


def _tonight(request: HttpRequest) -> int:
    kept = request.session.get(TONIGHT, USUAL_EVENING)
    return kept if isinstance(kept, int) and 0 < kept <= LONGEST_EVENING else USUAL_EVENING


def _shown(request: HttpRequest) -> int:
    asked = request.GET.get("show", "")
    lines = int(asked) if asked.isascii() and asked.isdigit() else LINES_A_PAGE
    return min(max(lines, LINES_A_PAGE), MOST_LINES)


def _back(request: HttpRequest, sifted: Sifted, submission: UUID | None = None) -> HttpResponse:
    """To the desk, looking at what was looked at; with a submission, to its line,
    which the browser gives the focus."""
    line = f"#submission-{submission}" if submission else ""
    return redirect(reverse("desk") + sifted.query + line)


@coach_required
@require_GET
def desk(request: HttpRequest) -> HttpResponse:
    """The queue in order, with the cut where the coach's time tonight ends."""
    coach = signed_in(request)
    sifted = Sifted.asked(request.GET)
    looks_at(request, sifted)
    evening = evening_of(coach, tonight=_tonight(request), shown=_shown(request), sifted=sifted)
    facts = {
        "evening": evening,
        "evenings": EVENINGS,
        "sifted": sifted,
        "choices": CHOICES,
        "more": evening.shown + LINES_A_PAGE,
        "no_coach": Sifted(whose="no-coach").waiting(coach).count(),
        "overdue_days": settings.OVERDUE_DAYS,
    }
    response = render(request, "reviews/desk/desk.html", facts)
    if "HX-Request" in request.headers:  # a swap: the address says what is looked at now
        response.headers["HX-Replace-Url"] = request.path + sifted.query
    return response


@coach_required
@require_POST
def set_tonight(request: HttpRequest) -> HttpResponse:
    """Keep the time the coach has tonight; it lasts as long as the session."""
    form = TonightForm(request.POST)
    if form.is_valid():
        request.session[TONIGHT] = form.cleaned_data["minutes"]
    else:
        messages.error(request, "Choose one of the times listed. Nothing was changed.")
    return _back(request, Sifted.asked(request.POST))


@coach_required
@require_POST
def open_next(request: HttpRequest) -> HttpResponse:
    """Claim the first free one of what is looked at, and open it."""
    # The desk sends what it shows; the workbench names it in the address.
    sifted = Sifted.asked({**request.GET.dict(), **request.POST.dict()})
    taken = claim_next(coach=signed_in(request), sifted=sifted)
    if taken is None:
        which = f" of these ({sifted.said.lower()})" if sifted else ""
        messages.info(request, f"Nothing{which} is free just now: every open question is taken.")
        return _back(request, sifted)
    return redirect("workbench", taken.submission_id)


@coach_required
@require_POST
def claim_one(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Claim this one and open it, or ``stay`` on the desk; if somebody else has it, open it to read
    along. Who comes from an answer says ``change``: everybody else must not reopen what was
    answered meanwhile."""
    coach = signed_in(request)
    submission = get_object_or_404(submissions_reviewable_by(coach), pk=pk)
    if "stay" in request.POST:
        try:
            held = claim(submission=submission, coach=coach)
        except Conflict as refused:
            messages.info(request, str(refused))
        else:
            until = timezone.localtime(held.until)
            messages.success(
                request, f"{submission.athlete.name} is kept for you until {until:%H:%M}."
            )
        return _back(request, Sifted.asked(request.POST), submission.pk)
    with suppress(Conflict):  # the workbench itself says how it stands
        claim(submission=submission, coach=coach, to_answer="change" not in request.POST)
    return redirect("workbench", submission.pk)


@coach_required
@require_POST
def release_one(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Give it back to the queue."""
    coach = signed_in(request)
    submission = get_object_or_404(submissions_reviewable_by(coach), pk=pk)
    if release(submission=submission, coach=coach):
        messages.success(request, f"{submission.athlete.name} is back in the queue.")
    else:
        messages.info(request, "It was not in your hands, so nothing was changed.")
    return _back(request, Sifted.asked(request.POST), submission.pk)
