"""Why a prescription is what it is: the note that a correction was made from."""

from django.db import models

from programming.models import Correction
from reviews.intake.models import Submission
from reviews.replies.models.note import Note


class CorrectionReason(models.Model):
    """``seen`` keeps what the note said when the correction was made; notes may be reworded.

    Shape of ``seen``: {"clip", "first_frame", "last_frame", "seconds": float or null, "rep",
    "phase", "fault", "fault_id", "cue", "cue_id", "drill", "drill_id", "text"}.
    """

    correction = models.OneToOneField(Correction, on_delete=models.CASCADE, related_name="reason")
    submission = models.ForeignKey(
        Submission, on_delete=models.CASCADE, related_name="correction_reasons"
    )
    note = models.ForeignKey(
        Note, on_delete=models.SET_NULL, null=True, blank=True, related_name="correction_reasons"
    )
    seen = models.JSONField()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.correction}: {self.seen.get('fault') or self.seen.get('text', '')}"
