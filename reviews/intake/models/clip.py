"""One uploaded video: the untouched original plus what is derived from it."""

import uuid

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone

from athletes.models import Unit
from programming.load.effort import effort_label
from programming.models import Movement
from reviews.intake.models.submission import Submission


class ClipState(models.TextChoices):
    RECEIVING = "receiving", "receiving"
    PROCESSING = "processing", "being made ready"
    PLAYABLE = "playable", "playable"
    FAILED = "failed", "will not play"


class View(models.TextChoices):
    SIDE = "side", "Side"
    QUARTER = "45", "At 45°"
    FRONT = "front", "Front"
    REAR = "rear", "Rear"

    @property
    def phrase(self) -> str:
        """Where from, inside a sentence."""
        return "at 45°" if self is View.QUARTER else f"from the {self.label.lower()}"


class Clip(models.Model):
    """Frames are integers into the frame table, which never changes once the clip is playable."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    submission = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="clips")
    # The request it was sent for; none for a clip that came with the question.
    angle = models.ForeignKey(
        "AngleRequest", on_delete=models.SET_NULL, null=True, blank=True, related_name="clips"
    )
    position = models.PositiveSmallIntegerField(default=1)
    # What was on the bar
    movement = models.ForeignKey(Movement, on_delete=models.RESTRICT, null=True, blank=True)
    load_kg = models.DecimalField(max_digits=7, decimal_places=3, null=True, blank=True)
    load_unit = models.CharField(max_length=2, choices=Unit.choices, default=Unit.KG)  # as typed
    reps = models.PositiveSmallIntegerField(
        null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(50)]
    )
    rpe = models.DecimalField(
        max_digits=3,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(10)],
    )
    reps_in_reserve = models.PositiveSmallIntegerField(
        null=True, blank=True, validators=[MaxValueValidator(10)]
    )
    view = models.CharField(max_length=5, choices=View.choices, blank=True)
    shows_fault = models.BooleanField(default=False)
    # The original
    filename = models.CharField(max_length=200, blank=True)
    size = models.PositiveBigIntegerField(default=0)
    sha256 = models.CharField(max_length=64, blank=True, db_index=True)
    original = models.CharField(max_length=200, blank=True)  # storage name; never altered
    # What was derived
    state = models.CharField(max_length=10, choices=ClipState.choices, default=ClipState.RECEIVING)
    reason = models.TextField(blank=True)  # a sentence the athlete can act on
    recipe = models.PositiveSmallIntegerField(null=True, blank=True)
    frames = models.PositiveIntegerField(null=True, blank=True)
    made = models.JSONField(null=True, blank=True)  # reviews.media.Made.to_json()
    created_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["position", "created_at"]
        constraints = [
            models.CheckConstraint(
                condition=~models.Q(state="playable")
                | models.Q(frames__gte=1, recipe__isnull=False, made__isnull=False),
                name="playable_has_frames",
            ),
            models.CheckConstraint(
                condition=~models.Q(state="failed") | ~models.Q(reason=""),
                name="failed_says_why",
            ),
        ]

    @property
    def effort(self) -> str:
        """In the athlete's words: "RPE 8.5", "2 in reserve", or ""."""
        return effort_label(self.rpe, self.reps_in_reserve)

    def __str__(self) -> str:
        return f"Clip {self.position}"

    @property
    def is_playable(self) -> bool:
        return self.state == ClipState.PLAYABLE

    @property
    def derived_folder(self) -> str:
        """Content-addressed, so re-making is idempotent and a better recipe can be rolled out."""
        return derived_folder(self.sha256, self.recipe or 0)


def derived_folder(sha256: str, recipe: int) -> str:
    return f"{folder_of(sha256)}/{recipe}"


def folder_of(sha256: str) -> str:
    """All that was ever derived from the same bytes, whoever sent them."""
    return f"derived/{sha256[:2]}/{sha256}"
