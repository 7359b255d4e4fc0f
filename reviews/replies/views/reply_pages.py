"""One submission: what was asked, the answer at its moments, and the talk below it."""

from uuid import UUID

from django.contrib import messages
from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_POST

from athletes.models import User
from athletes.permissions import signed_in
from coachdesk.common.errors import DomainError
from reviews.intake.clip_data import clip_data, table_at_hand
from reviews.intake.models import Submission
from reviews.intake.submitting import round_up_allowed
from reviews.permissions import submissions_visible_to
from reviews.replies.models import ReplyVersion
from reviews.replies.reply_page import Reading
from reviews.replies.selectors.reviews import read_by
from reviews.replies.services.mark_read import (
    mark_messages_read,
    mark_notices_read,
    mark_understood,
)
from reviews.replies.services.send_message import send_message


def _submission(reader: User, pk: UUID) -> Submission:
    return get_object_or_404(read_by(reader), pk=pk)


def _asked_for(versions: list[ReplyVersion], number: str) -> ReplyVersion | None:
    """The version named in the address, else the last one."""
    if not number:
        return versions[0] if versions else None
    for version in versions:
        if str(version.number) == number:
            return version
    raise Http404


@login_required
@require_GET
def submission(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The reply when there is one, else what was sent and how it stands."""
    reader = signed_in(request)
    found = _submission(reader, pk)
    if found.is_draft:
        return redirect("submit-draft", found.pk)
    reply = getattr(found, "reply", None)
    versions = list(reply.versions.all()) if reply else []
    version = _asked_for(versions, request.GET.get("version", ""))
    talk = list(found.messages.all())
    facts = {
        "submission": found,
        "versions": versions,
        "version": version,
        "reading": Reading(found, version, reader),
        "talk": talk,
        "waits": any(message.open for message in talk),
        "round_up": round_up_allowed(found),
        "own": found.athlete_id == reader.pk,
    }
    mark_messages_read(reader=reader, submission=found)
    mark_notices_read(reader=reader, submission_id=found.pk)
    return render(request, "reviews/replies/submission.html", facts)


@login_required
@require_GET
def clips(request: HttpRequest, pk: UUID) -> HttpResponse:
    """How the clips stand, for the page that looks again by itself."""
    reader = signed_in(request)
    found = _submission(reader, pk)
    facts = {"submission": found, "reading": Reading(found, None, reader)}
    return render(request, "reviews/replies/parts/clips.html", facts)


@login_required
@require_GET
def clip(request: HttpRequest, pk: UUID, clip_id: UUID) -> HttpResponse:
    """One clip by itself, to be played and stepped through."""
    reader = signed_in(request)
    found = _submission(reader, pk)
    playable = (clip for clip in found.clips.all() if clip.is_playable)
    watched = next((clip for clip in playable if clip.pk == clip_id), None)
    if watched is None:
        raise Http404
    context = {
        "submission": found,
        "clip": watched,
        "facts": clip_data(watched, reader),
        "table": table_at_hand(watched),
        "own": found.athlete_id == reader.pk,
    }
    return render(request, "reviews/replies/clip.html", context)


@login_required
@require_POST
def understand(request: HttpRequest, pk: UUID) -> HttpResponse:
    """The athlete has read it."""
    reader = signed_in(request)
    own = get_object_or_404(submissions_visible_to(reader).filter(athlete=reader), pk=pk)
    number = request.POST.get("version", "")
    if number.isascii() and number.isdigit():
        mark_understood(athlete=reader, submission=own, number=int(number))
    return redirect("submission", own.pk)


@login_required
@require_POST
def ask(request: HttpRequest, pk: UUID) -> HttpResponse:
    """Write to the other side."""
    reader = signed_in(request)
    found = get_object_or_404(submissions_visible_to(reader), pk=pk)
    try:
        send_message(author=reader, submission=found, text=request.POST.get("text", ""))
    except DomainError as error:
        messages.error(request, str(error))
        return redirect("submission", found.pk)
    messages.success(request, "Sent. The answer comes below, and by e-mail.")
    return redirect("submission", found.pk)
