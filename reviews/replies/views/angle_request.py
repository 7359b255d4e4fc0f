"""Asking for another angle: the coach's page, beside the workbench."""

from typing import Any
from uuid import UUID

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_http_methods, require_POST

from athletes.permissions import coach_required, signed_in
from coachdesk.common.errors import Conflict
from reviews.desk.looking import desk_address
from reviews.intake.angles import SAY_WHY, open_angle, take_back
from reviews.intake.guide import family_of, places_of
from reviews.intake.models import State, Submission, View
from reviews.permissions import submissions_reviewable_by
from reviews.replies.services.request_angle import request_angle


class AngleForm(forms.Form):
    view = forms.ChoiceField(
        choices=View.choices, error_messages={"required": "Choose where the camera should stand."}
    )
    why = forms.CharField(max_length=300, error_messages={"required": SAY_WHY})


def _submission(request: HttpRequest, pk: UUID) -> Submission:
    mine = submissions_reviewable_by(signed_in(request)).select_related("athlete", "pain")
    return get_object_or_404(mine, pk=pk)


@coach_required
@require_http_methods(["GET", "POST"])
def angle(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Which view, and a sentence why; what is asked for already, with a way to take it back."""
    submission = _submission(request, pk)
    form = AngleForm(request.POST or None)
    if request.method == "POST" and form.is_valid():
        try:
            return _ask(request, submission, form.cleaned_data)
        except Conflict as refused:
            form.add_error(None, str(refused))
    return render(
        request,
        "reviews/desk/angle.html",
        {
            "submission": submission,
            "form": form,
            "views": _views(submission),
            "asked": open_angle(submission),
            "waits": submission.state == State.WAITING,
        },
        status=422 if form.errors else 200,
    )


def _ask(request: HttpRequest, submission: Submission, told: dict[str, Any]) -> HttpResponse:
    coach = signed_in(request)
    request_angle(coach=coach, submission=submission, view=View(told["view"]), why=told["why"])
    name = submission.athlete.first_name
    messages.success(request, f"{name} is told by e-mail. It comes back among what is due.")
    return redirect(desk_address(request))


def _views(submission: Submission) -> list[dict[str, str]]:
    """Each view with what it shows, and which clips are from there already."""
    clips = list(submission.clips.select_related("movement"))
    return [
        {
            "value": angle.view,
            "label": label,
            "shows": angle.shows,
            "have": ", ".join(str(clip.position) for clip in clips if clip.view == angle.view),
        }
        for label, angle in places_of(family_of(clips))
    ]


@coach_required
@require_POST
def take_angle_back(request: HttpRequest, pk: UUID) -> HttpResponse:
    """It waits for a coach again, with what there is."""
    submission = _submission(request, pk)
    if take_back(submission=submission):
        messages.success(request, f"Taken back. {submission.athlete.name} is in the queue again.")
    else:
        messages.info(request, "Nothing was open any more, so nothing was changed.")
    return redirect("workbench", submission.pk)
