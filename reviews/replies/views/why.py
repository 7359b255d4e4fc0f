"""Why a prescription is what it is: the note, the frame and the reply behind it."""

from uuid import UUID

from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_GET

from athletes.permissions import signed_in
from programming.corrections.selectors import why
from programming.permissions import prescriptions_visible_to
from reviews.intake.models import Clip
from reviews.permissions import submissions_visible_to
from reviews.replies.models import CorrectionReason
from reviews.replies.views.stills import Still, still_of


@login_required
@require_GET
def prescription(request: HttpRequest, pk: UUID) -> HttpResponse:
    """For the athlete it is prescribed to and for the coaches of the club."""
    reader = signed_in(request)
    mine = prescriptions_visible_to(reader).select_related(
        "movement", "session__programme__athlete"
    )
    line = get_object_or_404(mine, pk=pk)
    found = why(line).select_related("made_by", "reason__submission")
    seen = set(
        submissions_visible_to(reader)
        .values_list("pk", flat=True)
        .filter(correction_reasons__correction__in=found)
    )
    reasons = [
        {
            "correction": one,
            "reason": reason,
            "still": _still(reason),
            "readable": reason is not None and reason.submission_id in seen,
        }
        for one in found
        for reason in [getattr(one, "reason", None)]
    ]
    facts = {"line": line, "reasons": reasons, "athlete": line.session.programme.athlete}
    return render(request, "reviews/corrections/why.html", facts)


def _still(reason: CorrectionReason | None) -> Still | None:
    """The clip at the frame the note was made on; none once the clip is gone."""
    clip = Clip.objects.filter(pk=reason.seen["clip"]).first() if reason else None
    return still_of(clip, reason.seen["first_frame"]) if clip and reason else None
