"""A resumable upload (tus 1.0.0) on its way to become a clip's original."""

import uuid

from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from athletes.models import User
from reviews.intake.models.clip import Clip


class Upload(models.Model):
    """The offset is what is stored on disk; this row only remembers it for pages."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    owner = models.ForeignKey(User, on_delete=models.CASCADE, related_name="uploads")
    clip = models.ForeignKey(Clip, on_delete=models.CASCADE, related_name="uploads")
    length = models.PositiveBigIntegerField()
    offset = models.PositiveBigIntegerField(default=0)
    metadata = models.TextField(blank=True)  # Upload-Metadata, echoed as it came
    created_at = models.DateTimeField(default=timezone.now, editable=False)
    expires_at = models.DateTimeField()
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(offset__lte=F("length")), name="offset_in_length")
        ]

    def __str__(self) -> str:
        return f"{self.offset} of {self.length}"
