"""The coach's verdict on one rep."""

from django.core.validators import MinValueValidator
from django.db import models
from django.db.models import F, Q

from athletes.models import User
from reviews.intake.models import Clip
from reviews.library.models import Fault

MAX_REPS = 50  # as many as a clip may say it holds


class Call(models.TextChoices):
    STANDARD = "standard", "To standard"
    NOT_STANDARD = "not-standard", "Not to standard"
    CANNOT_TELL = "cannot-tell", "Can't tell from this angle"


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
