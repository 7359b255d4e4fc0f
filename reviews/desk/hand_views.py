"""Handing what one coach has claimed to another coach of the club."""

from uuid import UUID

from django.conf import settings
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods

from athletes.permissions import coach_required, signed_in
from coachdesk.common.errors import Invalid
from reviews.desk.claiming import live_claim
from reviews.desk.forms import HandForm
from reviews.desk.handing import hand_over, hands_to, may_hand
from reviews.desk.looking import desk_address
from reviews.permissions import submissions_reviewable_by


@coach_required
@require_http_methods(["GET", "POST"])
def hand(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Choose the coach who gets it; 422 with the reason when nothing was changed."""
    coach = signed_in(request)
    mine = submissions_reviewable_by(coach).select_related("athlete", "club", "pain")
    submission = get_object_or_404(mine, pk=pk)
    form = HandForm(request.POST or None, submission=submission)
    if request.method == "POST" and form.is_valid():
        holder, to = form.cleaned_data["holder"], form.cleaned_data["to"]
        try:
            hand_over(submission=submission, holder=holder, to=to, by=coach)
        except Invalid as refused:
            form.add_error(None, str(refused))
        else:
            whom = "you" if to == coach else to.name
            messages.success(request, f"{submission.athlete.name} is now with {whom}.")
            return redirect(desk_address(request))
    claim = live_claim(submission)
    facts = {
        "submission": submission,
        "form": form,
        "claim": claim,
        "lease": settings.CLAIM_MINUTES,
        "may": may_hand(claim, coach),
        "coaches": hands_to(submission, claim.coach) if claim else [],
    }
    facts["desk"] = desk_address(request)
    status = 422 if form.is_bound else 200
    return render(request, "reviews/desk/hand.html", facts, status=status)
