"""The owner's back door: what happened to a clip, and one more try. Nothing is written by hand."""

from typing import Any

from django.contrib import admin
from django.db.models import QuerySet
from django.http import HttpRequest

from athletes.admin import ReadOnlyAdmin
from reviews.intake import jobs
from reviews.intake.models import JobState
from reviews.models import Claim, Clip, MediaJob, ReplyVersion, RoundUpConsent, Submission, Upload


class KeptAdmin(ReadOnlyAdmin):
    """Records that go by the rules of the pages or not at all: a reply can always be read."""

    def has_delete_permission(self, request: HttpRequest, obj: Any = None) -> bool:
        return False


@admin.register(Submission)
class SubmissionAdmin(KeptAdmin):
    list_display = ["__str__", "athlete", "club", "state", "urgency", "sent_at"]
    list_filter = ["state", "urgency", "club"]
    list_select_related = ["athlete", "club"]
    search_fields = ["athlete__name", "question"]


@admin.register(Clip)
class ClipAdmin(KeptAdmin):
    list_display = ["id", "athlete", "movement", "state", "reason", "size", "created_at"]
    list_filter = ["state", "view"]
    list_select_related = ["submission__athlete", "movement"]
    search_fields = ["id", "submission__athlete__name", "sha256"]

    @admin.display(ordering="submission__athlete")
    def athlete(self, clip: Clip) -> str:
        return clip.submission.athlete.name


@admin.register(MediaJob)
class MediaJobAdmin(KeptAdmin):
    list_display = [
        *("clip_id", "recipe", "state", "attempts", "progress", "queued_at", "finished_at"),
        *("holder", "last_error"),
    ]
    list_filter = ["state", "recipe"]
    search_fields = ["clip__id", "holder"]
    actions = ["try_again"]

    @admin.action(description="Try again, with all attempts")
    def try_again(self, request: HttpRequest, chosen: QuerySet[MediaJob]) -> None:
        failed = chosen.filter(state=JobState.FAILED).select_related("clip")
        for job in failed:
            jobs.enqueue(job.clip)
        self.message_user(request, f"{len(failed)} of {chosen.count()} wait their turn again.")


@admin.register(Upload)
class UploadAdmin(KeptAdmin):
    list_display = ["id", "owner", "clip_id", "offset", "length", "created_at", "finished_at"]
    list_select_related = ["owner"]


@admin.register(Claim)
class ClaimAdmin(ReadOnlyAdmin):
    """Deleting one frees the submission for another coach."""

    list_display = ["submission_id", "coach", "taken_at", "until"]
    list_select_related = ["coach"]


@admin.register(RoundUpConsent)
class RoundUpConsentAdmin(KeptAdmin):
    list_display = ["submission_id", "given", "said_by", "said_at"]
    list_select_related = ["said_by"]


@admin.register(ReplyVersion)
class ReplyVersionAdmin(KeptAdmin):
    list_display = ["reply_id", "number", "sent_by", "sent_at"]
    list_select_related = ["sent_by"]
