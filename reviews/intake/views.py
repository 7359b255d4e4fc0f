"""The pages of asking: the draft, and the consent that can be taken back."""

from typing import Any
from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_POST

from athletes.models import WarningSign
from athletes.permissions import signed_in
from programming.movements.families import Family
from programming.permissions import movements_visible_to
from reviews.intake import submitting
from reviews.intake.angles import open_angle
from reviews.intake.cards import clip_card
from reviews.intake.guide import GUIDE, family_of, places_of
from reviews.intake.models import ClipState, Equipment, Goal, Submission, View
from reviews.intake.quota import room_of
from reviews.permissions import may_submit, submissions_visible_to


@login_required
@require_GET
def submit(request: HttpRequest) -> HttpResponse:
    """Open the newest draft, or make one; ?check-back=<id> answers "film this again"."""
    user = signed_in(request)
    if not may_submit(user):
        raise Http404
    try:
        earlier = UUID(request.GET["check-back"]) if "check-back" in request.GET else None
        draft = submitting.open_draft(athlete=user, check_back_of=earlier)
    except (ValueError, Submission.DoesNotExist):
        raise Http404 from None
    return redirect("submit-draft", draft.id)


@login_required
@require_GET
def submit_draft(request: HttpRequest, submission_id: UUID) -> HttpResponse:
    """The draft. Once sent: another angle when a coach asks for one, or what its clips still need,
    or else the question's own page."""
    user = signed_in(request)
    own = submissions_visible_to(user).filter(athlete=user).select_related("pain", "check_back_of")
    submission = get_object_or_404(own, pk=submission_id)
    clips = list(submission.clips.select_related("movement", "submission"))
    asked = open_angle(submission)
    needs = {ClipState.RECEIVING, ClipState.FAILED}
    if asked:
        clips = [clip for clip in clips if clip.angle_id == asked.pk or clip.state in needs]
    elif not submission.is_draft and not any(clip.state in needs for clip in clips):
        return redirect("submission", submission.id)
    return render(
        request,
        "reviews/intake/submit.html",
        {
            "submission": submission,
            "asked": asked,
            "places": places_of(family_of(submission.clips.select_related("movement"))),
            "open": submission.is_draft or asked,
            "round_up": submitting.round_up_allowed(submission),
            "room": room_of(user),
            "cards": [clip_card(clip) for clip in clips],
            "families": _by_family(user),
            "ask": submitting.ASK,
            **CHOICES,
        },
    )


CHOICES: dict[str, Any] = {
    "goals": Goal.choices,
    "equipment": Equipment.choices,
    "views": View.choices,
    "signs": WarningSign.choices,
    "guide": GUIDE,
}


def _by_family(user: Any) -> list[tuple[str, list[tuple[int, str]]]]:
    """The movements this athlete may pick, under their lift family, for the picker."""
    groups: dict[str, list[tuple[int, str]]] = {str(label): [] for label in Family.labels}
    for movement in movements_visible_to(user).filter(retired_at=None):
        groups[movement.get_family_display()].append((movement.pk, movement.name))
    return [(label, rows) for label, rows in groups.items() if rows]


@login_required
@require_POST
def consent(request: HttpRequest, submission_id: UUID) -> HttpResponse:
    """Say yes or no to round-ups, at any time."""
    user = signed_in(request)
    own = submissions_visible_to(user).filter(athlete=user)
    submission = get_object_or_404(own, pk=submission_id)
    given = request.POST.get("given") == "yes"
    submitting.say_round_up(submission=submission, given=given, by=user)
    messages.success(
        request,
        "Round-ups may show this question." if given else "Round-ups leave this question out.",
    )
    return redirect("submit-draft" if submission.is_draft else "submission", submission.id)
