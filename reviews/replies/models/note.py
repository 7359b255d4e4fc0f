"""Something seen at a moment of a clip."""

import uuid

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from athletes.models import User
from programming.movements.families import Phase
from reviews.intake.models import Clip
from reviews.library.models import Cue, Drill, Fault


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
