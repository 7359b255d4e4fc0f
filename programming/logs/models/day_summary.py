"""What belongs to a day: body weight, and the load summary derived from the log."""

from django.db import models
from django.utils import timezone

from athletes.models import User


class BodyWeight(models.Model):
    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="body_weights")
    day = models.DateField()
    kg = models.DecimalField(max_digits=6, decimal_places=3)

    class Meta:
        ordering = ["day"]
        constraints = [
            models.UniqueConstraint(fields=["athlete", "day"], name="one_body_weight_a_day"),
            models.CheckConstraint(condition=models.Q(kg__gt=0), name="body_weight_is_positive"),
        ]

    def __str__(self) -> str:
        return f"{self.day}: {self.kg} kg"


class DaySummary(models.Model):
    """Derived: dropping and rebuilding it gives the same numbers. A rest day has no row.

    What each figure is, and its unit: `programming.load.days.Days`.
    """

    # The constraint's index begins with the athlete; a second one would only slow the rebuild.
    athlete = models.ForeignKey(
        User, on_delete=models.CASCADE, related_name="day_summaries", db_index=False
    )
    day = models.DateField()
    family = models.CharField(max_length=8, blank=True)  # blank: all families together
    # Effort and minutes are the session's: a family's row has none of these three.
    sessions = models.PositiveSmallIntegerField(default=0)
    sessions_rated = models.PositiveSmallIntegerField(default=0)  # fewer is a gap
    session_load = models.FloatField(null=True, blank=True)  # AU
    sets = models.PositiveSmallIntegerField(default=0)
    sets_loaded = models.PositiveSmallIntegerField(default=0)
    sets_with_max = models.PositiveSmallIntegerField(default=0)
    sets_with_effort = models.PositiveSmallIntegerField(default=0)
    reps = models.PositiveIntegerField(default=0)
    reps_with_max = models.PositiveIntegerField(default=0)
    hard_sets = models.PositiveSmallIntegerField(default=0)
    volume_load = models.FloatField(null=True, blank=True)  # kg
    relative_volume_load = models.FloatField(null=True, blank=True)  # maxes
    computed_at = models.DateTimeField(default=timezone.now)

    class Meta:
        verbose_name_plural = "day summaries"
        ordering = ["day"]
        constraints = [
            models.UniqueConstraint(fields=["athlete", "day", "family"], name="one_summary_a_day")
        ]

    def __str__(self) -> str:
        return f"{self.day} {self.family or 'all'}"


class DirtyDay(models.Model):
    """A day whose summary waits to be made again. Written with the change itself: this row is the
    truth, a message only says "look now". Each mark is a row of its own, so that a worker takes
    away exactly those it has seen."""

    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="dirty_days")
    day = models.DateField()
    marked_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["pk"]

    def __str__(self) -> str:
        return f"{self.day}"


class SummaryRepair(models.Model):
    """The nightly proof found a stored figure that the log does not give, and put it right."""

    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="summary_repairs")
    day = models.DateField()
    family = models.CharField(max_length=8, blank=True)
    stored = models.JSONField(null=True)  # null: there was no row
    computed = models.JSONField(null=True)  # null: there should be none
    found_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["-found_at", "-pk"]

    def __str__(self) -> str:
        return f"{self.day} {self.family or 'all'}"
