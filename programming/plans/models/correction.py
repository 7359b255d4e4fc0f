"""A programme change caused by a fault, with what it changed and when to check it. How one is
made, applied and taken back: `programming.corrections`."""

import uuid

from django.db import models
from django.utils import timezone

from athletes.models import User
from programming.movements.models import Movement
from programming.plans.models.prescription import Prescription


class Kind(models.TextChoices):
    ADD_DRILL = "add-drill", "Add a drill"
    SWAP = "swap", "Swap the movement"
    CAP = "cap", "Cap the load"
    REBUILD = "rebuild", "Rebuild as a new movement"
    DOSE = "dose", "Change sets or reps"
    HOLD = "hold", "Hold"


class Place(models.TextChoices):
    """Where in the session a drill goes."""

    BEFORE = "before", "before the lift"
    AFTER = "after", "after the lift"
    LAST = "last", "at the end"


class CorrectionQuerySet(models.QuerySet["Correction"]):
    def standing(self) -> "CorrectionQuerySet":
        """Not taken back: what it did was meant, though it may have ended since."""
        return self.filter(taken_back_at=None)

    def running(self) -> "CorrectionQuerySet":
        """Those that still hold something."""
        return self.standing().filter(ended_on=None)


class Correction(models.Model):
    """Applies whole or not at all. Why it was made is linked from the review that made it."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="corrections")
    # A variant or drill that did not exist before; it goes again when nothing names it any more.
    new_movement = models.ForeignKey(
        Movement,
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="made_by_corrections",
    )
    kind = models.CharField(max_length=9, choices=Kind.choices)
    wish = models.JSONField(default=dict)  # what was asked for, as the preview was made from it
    said = models.CharField(max_length=200)  # one line: "Cap the low-bar squat at 95%"
    made_by = models.ForeignKey(User, on_delete=models.SET_NULL, null=True, related_name="+")
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    check_back_on = models.DateField(null=True, blank=True)
    taken_back_at = models.DateTimeField(null=True, blank=True)
    # Partly trained, so it cannot be taken back: from this day on it no longer holds.
    ended_on = models.DateField(null=True, blank=True)
    taken_back_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    objects = CorrectionQuerySet.as_manager()

    class Meta:
        ordering = ["-made_at"]
        indexes = [models.Index(fields=["athlete", "check_back_on"], name="check_backs_due")]

    def __str__(self) -> str:
        return self.said

    @property
    def is_running(self) -> bool:
        return self.taken_back_at is None and self.ended_on is None


class ChangeQuerySet(models.QuerySet["Change"]):
    def running(self) -> "ChangeQuerySet":
        """Of corrections that still hold something."""
        return self.filter(correction__in=Correction.objects.running())


class Change(models.Model):
    """One prescription before and after; ``before`` is empty when the correction added it."""

    correction = models.ForeignKey(Correction, on_delete=models.CASCADE, related_name="changes")
    # A prescription that was added and taken back is gone; its record stays.
    prescription = models.ForeignKey(
        Prescription, on_delete=models.SET_NULL, null=True, blank=True, related_name="changes"
    )
    before = models.JSONField(null=True, blank=True)
    after = models.JSONField(null=True, blank=True)

    objects = ChangeQuerySet.as_manager()

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.correction} at {self.prescription}"
