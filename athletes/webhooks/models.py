"""Where a club wants to be told, and every telling. The row is the truth: a lost task only waits
for the sweep."""

import uuid

from django.db import models
from django.db.models import Q
from django.utils import timezone

from athletes.models import Club, User
from coachdesk.common.leases import LeasedRow


class Event(models.TextChoices):
    SUBMISSION_SENT = "submission.sent", "A question was sent"
    REPLY_PUBLISHED = "reply.published", "A reply was published"
    CORRECTION_APPLIED = "correction.applied", "A correction was applied"


class Webhook(models.Model):
    """One address of a club. The secret must be kept as it is: signing needs it."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="webhooks")
    url = models.URLField(max_length=500)
    events = models.JSONField(default=list)  # values of Event
    secret = models.CharField(max_length=64, editable=False)
    made_by = models.ForeignKey(User, on_delete=models.SET_NULL, null=True, related_name="+")
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return self.url

    @property
    def event_words(self) -> list[str]:
        return [Event(event).label for event in self.events]


class Delivery(LeasedRow):
    """One event for one address, until it was taken or given up."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    webhook = models.ForeignKey(Webhook, on_delete=models.CASCADE, related_name="deliveries")
    event = models.CharField(max_length=24, choices=Event.choices)
    payload = models.JSONField()
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    taken_at = models.DateTimeField(null=True)  # when the other side said 2xx
    status = models.PositiveSmallIntegerField(null=True)
    problem = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["-made_at", "pk"]
        indexes = [
            models.Index(
                fields=["due_at"], name="deliveries_due", condition=Q(due_at__isnull=False)
            )
        ]

    def __str__(self) -> str:
        return f"{self.event} to {self.webhook_id}"

    @property
    def given_up(self) -> bool:
        return self.taken_at is None and self.due_at is None
