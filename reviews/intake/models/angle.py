"""A coach cannot tell from what was filmed, and asks for one more clip."""

from django.db import models
from django.db.models import Q
from django.utils import timezone

from athletes.models import User
from reviews.intake.models.clip import View
from reviews.intake.models.submission import Submission


class AngleOutcome(models.TextChoices):
    CAME = "came", "the clip came"
    TAKEN_BACK = "taken-back", "taken back by a coach"


class AngleRequest(models.Model):
    """Open until it is settled; a submission waits on the athlete exactly as long as one is open.

    Mailed to the athlete. The clips that answer it point here.
    """

    submission = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="angles")
    asked_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    view = models.CharField(max_length=5, choices=View.choices)
    why = models.CharField(max_length=300)
    asked_at = models.DateTimeField(default=timezone.now, editable=False)
    settled_at = models.DateTimeField(null=True, blank=True)
    outcome = models.CharField(max_length=10, choices=AngleOutcome.choices, blank=True)

    class Meta:
        ordering = ["-asked_at", "-pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["submission"], condition=Q(settled_at=None), name="one_open_angle"
            ),
            models.CheckConstraint(
                condition=Q(settled_at=None, outcome="")
                | (Q(settled_at__isnull=False) & ~Q(outcome="")),
                name="settled_angle_has_an_outcome",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_view_display()}: {self.why}"
