"""One question from an athlete, with one or more clips."""

import uuid
from typing import Any

from django.db import models
from django.utils import timezone

from athletes.models import Club, PainReport, User


class State(models.TextChoices):
    """What is stored. "Claimed" is waiting plus a live claim, so a lapsed claim frees it."""

    DRAFT = "draft", "draft"
    WAITING = "waiting", "waiting"
    WAITING_ON_ATHLETE = "waiting-on-athlete", "waiting on you"
    ANSWERED = "answered", "answered"
    CLOSED = "closed", "closed"


class Goal(models.TextChoices):
    TOTAL = "total", "A competition total"
    STRENGTH = "strength", "Strength"
    MUSCLE = "muscle", "Muscle"
    RETURN = "return", "Return after a break"


class Equipment(models.TextChoices):
    BELT = "belt", "belt"
    SLEEVES = "sleeves", "knee sleeves"
    KNEE_WRAPS = "knee-wraps", "knee wraps"
    WRIST_WRAPS = "wrist-wraps", "wrist wraps"
    STRAPS = "straps", "straps"
    SHOES = "shoes", "heeled shoes"


class Urgency(models.IntegerChoices):
    """The first key of the queue: lower is answered earlier."""

    WARNING_SIGN = 0, "warning sign"
    PAIN = 1, "pain"
    FORM = 2, "form"


class Submission(models.Model):
    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="submissions")
    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="submissions")
    check_back_of = models.ForeignKey(
        "self", on_delete=models.SET_NULL, null=True, blank=True, related_name="check_backs"
    )
    question = models.TextField(blank=True)
    tried = models.TextField(blank=True)
    goal = models.CharField(max_length=10, choices=Goal.choices, blank=True)
    equipment = models.JSONField(default=list, blank=True)  # values of Equipment
    pain = models.OneToOneField(
        PainReport, on_delete=models.SET_NULL, null=True, blank=True, related_name="submission"
    )
    urgency = models.PositiveSmallIntegerField(choices=Urgency.choices, default=Urgency.FORM)
    state = models.CharField(max_length=20, choices=State.choices, default=State.DRAFT)
    created_at = models.DateTimeField(default=timezone.now, editable=False)
    saved_at = models.DateTimeField(auto_now=True)
    sent_at = models.DateTimeField(null=True, blank=True)
    # Since when it is back with another angle that a coach asked for.
    back_at = models.DateTimeField(null=True, blank=True)
    answered_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-created_at"]
        indexes = [
            # All that the queue's order asks for: the desk sorts it without touching the rows.
            models.Index(
                fields=["club", "state", "urgency", "sent_at", "check_back_of", "back_at", "id"],
                name="queue_order",
            ),
            models.Index(fields=["athlete", "-created_at"], name="athlete_latest"),
            models.Index(fields=["club", "answered_at"], name="answered_since"),
        ]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(state="draft") | models.Q(sent_at__isnull=False),
                name="sent_has_a_time",
            )
        ]

    def __str__(self) -> str:
        return self.question[:60] or "Draft"

    @property
    def is_draft(self) -> bool:
        return self.state == State.DRAFT

    @property
    def equipment_words(self) -> list[str]:
        return [str(Equipment(item).label) for item in self.equipment]


class RoundUpConsent(models.Model):
    """One yes or no to round-ups. Append-only: the newest row is the one that counts."""

    submission = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="consents")
    given = models.BooleanField()
    said_by = models.ForeignKey(User, on_delete=models.CASCADE, related_name="+")
    said_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["-said_at", "-pk"]

    def __str__(self) -> str:
        return "yes" if self.given else "no"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk:
            raise ValueError("A consent record is never rewritten; add a new one.")
        super().save(*args, **kwargs)
