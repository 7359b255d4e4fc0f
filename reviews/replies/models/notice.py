"""That a programme was changed after its reply: told on Today, on the reply's page and by mail."""

from django.db import models
from django.utils import timezone

from reviews.replies.models.reason import CorrectionReason


class NoticeEvent(models.TextChoices):
    APPLIED = "applied", "Applied"
    TAKEN_BACK = "taken-back", "Taken back"
    ENDED = "ended", "Ended"


class ProgrammeNotice(models.Model):
    """What a reply that was sent before cannot say. ``read_at``: when the athlete first opened the
    page that says it."""

    reason = models.ForeignKey(CorrectionReason, on_delete=models.CASCADE, related_name="notices")
    event = models.CharField(max_length=10, choices=NoticeEvent.choices)
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    read_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["made_at", "pk"]

    def __str__(self) -> str:
        return f"{self.reason.correction}: {self.get_event_display().lower()}"
