"""What an owner sees of the machine: what it lacks, what waits for that, and trying again."""

import shutil
from typing import Any
from uuid import UUID

from django.contrib import messages
from django.db.models import Exists, QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_GET, require_POST

from athletes.mail.models import Mail
from athletes.mail.services import mail_is_stuck, stuck_mails
from athletes.models import User
from athletes.permissions import owner_required, signed_in
from coachdesk.common.paths import DATA
from coachdesk.ops import health
from reviews.intake.jobs import try_again, waiting_for_machine
from reviews.intake.models import Clip, ClipState, MediaJob

# What is wrong, and what to do, by reviews.media.machine.Part.
FAULTS = {
    "disk": "The disk is full or cannot be written to. Make room, or move the data folder to a "
    "larger disk.",
    "memory": "The machine ran out of memory. Stop other programs on it, or give it more memory.",
    "program": "A program is missing or cannot be started. Start Coachdesk again: it installs what "
    "it needs. COACHDESK_FFMPEG, if you set it, must name an ffmpeg that runs.",
    "storage": "The clip storage does not answer. Check that it runs and can be reached.",
}
FAILED_SHOWN = 50


def jobs_waiting(owner: User) -> QuerySet[MediaJob]:
    """This club's clips that wait until the machine is put right."""
    return waiting_for_machine().filter(clip__submission__club=owner.club_id)


def has_trouble(owner: User) -> bool:
    """In one statement, since an owner's desk asks each time."""
    trouble = Exists(jobs_waiting(owner)) | Exists(stuck_mails())
    return User.objects.filter(trouble, pk=owner.pk).exists()


@owner_required
@require_GET
def server(request: HttpRequest) -> HttpResponse:
    user = signed_in(request)
    waiting = jobs_waiting(user).select_related("clip__submission__athlete")
    faults = sorted(set(waiting.values_list("fault", flat=True)))
    failed = Clip.objects.filter(submission__club=user.club_id, state=ClipState.FAILED)
    failed = failed.exclude(original="").select_related("submission__athlete")
    page: dict[str, Any] = {
        "parts": {name: health.state_of(name) for name in health.PARTS},
        "disk": shutil.disk_usage(DATA),
        "faults": [FAULTS[fault] for fault in faults],
        "waiting": waiting,
        "failed": failed.order_by("-created_at")[:FAILED_SHOWN],
        "mails": Mail.objects.filter(due_at__isnull=False).count(),
        "mails_given_up": Mail.objects.filter(due_at=None).count(),
        "mail_is_stuck": mail_is_stuck(),
    }
    return render(request, "coachdesk/server.html", page)


@owner_required
@require_POST
def clip_again(request: HttpRequest, pk: UUID) -> HttpResponse:
    user = signed_in(request)
    clips = Clip.objects.filter(submission__club=user.club_id).exclude(original="")
    clip = get_object_or_404(clips.exclude(state=ClipState.PLAYABLE).exclude(sha256=""), pk=pk)
    try_again(clip)
    messages.success(request, "The clip is tried again now. This page shows how it went.")
    return redirect("server")
