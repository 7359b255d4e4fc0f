"""A file that was sent and is looked at before it is brought in."""

from django.db import models
from django.utils import timezone

from athletes.models import User


class ImportDraft(models.Model):
    """One an athlete; a newer file takes its place, and it goes once it is brought in."""

    athlete = models.OneToOneField(User, on_delete=models.CASCADE, related_name="import_draft")
    name = models.CharField(max_length=200)
    text = models.TextField()
    sent_at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return f"{self.name} of {self.athlete}"
