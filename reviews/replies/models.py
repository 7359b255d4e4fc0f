"""Notes at frames, calls on reps, and the reply they become."""

import uuid
from typing import Any

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from athletes.models import User
from programming.movements.families import Phase
from reviews.intake.models import Clip, Submission
from reviews.library.models import Cue, Drill, Fault


class Call(models.TextChoices):
    STANDARD = "standard", "To standard"
    NOT_STANDARD = "not-standard", "Not to standard"
    CANNOT_TELL = "cannot-tell", "Can't tell from this angle"


class Note(models.Model):
    """Something seen at a frame or a range. It keeps the words it said, whatever the library does.

    The client names it (UUID), so that saving twice over a bad network makes one note.
    """

    id = models.UUIDField(primary_key=True, default=uuid.uuid4)
    clip = models.ForeignKey(Clip, on_delete=models.CASCADE, related_name="notes")
    author = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    first_frame = models.PositiveIntegerField()
    last_frame = models.PositiveIntegerField()
    phase = models.CharField(max_length=10, choices=Phase.choices, blank=True)
    rep = models.PositiveSmallIntegerField(null=True, blank=True, validators=[MinValueValidator(1)])
    text = models.TextField(blank=True)
    fault = models.ForeignKey(Fault, on_delete=models.SET_NULL, null=True, blank=True)
    fault_name = models.CharField(max_length=80, blank=True)
    cue = models.ForeignKey(Cue, on_delete=models.SET_NULL, null=True, blank=True)
    cue_text = models.CharField(max_length=120, blank=True)
    drill = models.ForeignKey(Drill, on_delete=models.SET_NULL, null=True, blank=True)
    drill_text = models.CharField(max_length=260, blank=True)
    # 1, 2, 3... in the reply; empty: seen, left for now. Gaps are fine, order is what counts.
    rank = models.PositiveSmallIntegerField(null=True, blank=True)
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    saved_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["first_frame", "made_at"]
        constraints = [
            models.CheckConstraint(
                condition=Q(last_frame__gte=F("first_frame")), name="note_range_in_order"
            )
        ]

    def __str__(self) -> str:
        return self.fault_name or self.text[:40] or f"frame {self.first_frame}"


class RepCall(models.Model):
    """The verdict on one rep. "Can't tell" is neither a fault nor a pass."""

    clip = models.ForeignKey(Clip, on_delete=models.CASCADE, related_name="rep_calls")
    rep = models.PositiveSmallIntegerField(validators=[MinValueValidator(1)])
    call = models.CharField(max_length=12, choices=Call.choices, blank=True)
    faults = models.ManyToManyField(Fault, blank=True, related_name="+")
    # Where the rep lies, when the coach has marked it.
    first_frame = models.PositiveIntegerField(null=True, blank=True)
    last_frame = models.PositiveIntegerField(null=True, blank=True)
    called_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    called_at = models.DateTimeField(auto_now=True)

    class Meta:
        ordering = ["rep"]
        constraints = [
            models.UniqueConstraint(fields=["clip", "rep"], name="one_call_per_rep"),
            models.CheckConstraint(
                condition=Q(first_frame=None, last_frame=None)
                | Q(first_frame__isnull=False, last_frame__gte=F("first_frame")),
                name="rep_range_in_order",
            ),
        ]

    def __str__(self) -> str:
        return f"rep {self.rep}: {self.call}"


class Reply(models.Model):
    """The answer while it takes shape. What was sent is in its versions."""

    submission = models.OneToOneField(Submission, on_delete=models.CASCADE, related_name="reply")
    opening = models.TextField(blank=True)
    film_again_by = models.DateField(null=True, blank=True)
    film_again_note = models.TextField(blank=True)
    saved_at = models.DateTimeField(auto_now=True)

    class Meta:
        verbose_name_plural = "replies"

    def __str__(self) -> str:
        return f"Reply to {self.submission}"


class ReplyVersion(models.Model):
    """What the athlete was sent. It never changes; a later edit is a new version."""

    reply = models.ForeignKey(Reply, on_delete=models.CASCADE, related_name="versions")
    number = models.PositiveSmallIntegerField()
    content = models.JSONField()
    sent_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    sent_at = models.DateTimeField(default=timezone.now, editable=False)
    # Delivery and reading are facts about the version, not part of it.
    mailed_at = models.DateTimeField(null=True, blank=True)
    understood_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["reply", "number"], name="one_version_per_number")
        ]

    def __str__(self) -> str:
        return f"version {self.number}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk:
            raise ValueError("A published version never changes; publish a new one.")
        super().save(*args, **kwargs)
