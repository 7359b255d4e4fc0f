"""The private address at which an athlete's calendar reads the sessions to come."""

from django.db import models
from django.utils import timezone

from athletes.models import User


class CalendarFeed(models.Model):
    """One address a person. Deleting the row closes it; a new one gets a new address."""

    athlete = models.OneToOneField(User, on_delete=models.CASCADE, related_name="calendar_feed")
    # Only the digest is kept: a leaked database opens no calendar.
    token_digest = models.CharField(max_length=64, unique=True, editable=False)
    made_at = models.DateTimeField(default=timezone.now, editable=False)

    def __str__(self) -> str:
        return f"Calendar of {self.athlete}"
