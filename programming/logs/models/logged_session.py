"""A training session as it was done, set by set."""

import uuid

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone

from athletes.models import Unit, User
from programming.movements.models import Movement

HALF_POINTS = [MinValueValidator(1), MaxValueValidator(10)]


class LoggedSession(models.Model):
    """The id comes from the phone: a session sent twice over a bad network is one session."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="logged_sessions")
    day = models.DateField()  # the athlete's local date
    planned = models.ForeignKey(
        "programming.PlannedSession",
        on_delete=models.SET_NULL,
        null=True,
        blank=True,
        related_name="logged",
    )
    # Unknown stays unknown: a session without them is a gap in the load, not a rest.
    session_rpe = models.DecimalField(
        max_digits=3,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(10)],
    )
    minutes = models.PositiveSmallIntegerField(
        null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(600)]
    )
    note = models.TextField(blank=True, max_length=2000)
    started_at = models.DateTimeField(default=timezone.now)
    finished_at = models.DateTimeField(null=True, blank=True)
    # The phone's own count of changes: an older copy that arrives late changes nothing.
    revision = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["day", "started_at"]
        indexes = [models.Index(fields=["athlete", "day"], name="sessions_by_day")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(session_rpe=None)
                | models.Q(session_rpe__gte=0, session_rpe__lte=10),
                name="session_rpe_is_0_to_10",
            )
        ]

    def __str__(self) -> str:
        return f"{self.athlete} on {self.day}"


class LoggedSet(models.Model):
    """What was done. What was prescribed stays in the prescription beside it."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    session = models.ForeignKey(LoggedSession, on_delete=models.CASCADE, related_name="sets")
    prescription = models.ForeignKey(
        "programming.Prescription",
        on_delete=models.RESTRICT,
        null=True,
        blank=True,
        related_name="logged_sets",
    )
    movement = models.ForeignKey(Movement, on_delete=models.RESTRICT, related_name="logged_sets")
    position = models.PositiveSmallIntegerField(default=1)  # order within the session
    load_kg = models.DecimalField(max_digits=7, decimal_places=3, null=True, blank=True)
    load_unit = models.CharField(max_length=2, choices=Unit.choices, default=Unit.KG)  # as typed
    reps = models.PositiveSmallIntegerField(validators=[MaxValueValidator(200)])  # reps made
    # Tried beside them and not made, or made in a way that lost the position. Three tried and the
    # last one missed: reps 2, missed_reps 1. (A rep that loses the intended position is a missed
    # rep however heavy: common practice, no source.)
    missed_reps = models.PositiveSmallIntegerField(default=0)
    rpe = models.DecimalField(
        max_digits=3, decimal_places=1, null=True, blank=True, validators=HALF_POINTS
    )
    note = models.TextField(blank=True, max_length=500)
    done_at = models.DateTimeField(default=timezone.now)
    # The phone's own count of changes: an older copy that arrives late changes nothing.
    revision = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["position", "done_at"]
        indexes = [models.Index(fields=["movement", "session"], name="sets_by_movement")]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(load_kg=None) | models.Q(load_kg__gte=0),
                name="no_negative_load",
            )
        ]

    def __str__(self) -> str:
        return f"{self.movement} {self.load_kg} x {self.reps}"


class Removed(models.Model):
    """What was taken out of the log, by its id: a copy of it that arrives late must not bring it
    back. ``revision`` is the one that took it out; only a newer one may put it in again."""

    id = models.UUIDField(primary_key=True, editable=False)
    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="+")
    revision = models.PositiveIntegerField()
    removed_at = models.DateTimeField(default=timezone.now, editable=False)

    def __str__(self) -> str:
        return f"{self.id} out at {self.revision}"
