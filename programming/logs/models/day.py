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
    """Derived: dropping and rebuilding it gives the same numbers. A rest day has no row."""

    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="day_summaries")
    day = models.DateField()
    family = models.CharField(max_length=8, blank=True)  # blank: all families together
    sessions = models.PositiveSmallIntegerField(default=0)
    # Sessions with both an RPE and minutes; fewer than `sessions` is a gap.
    sessions_rated = models.PositiveSmallIntegerField(default=0)
    session_load = models.FloatField(null=True, blank=True)  # RPE x minutes, of the rated ones
    volume_load = models.FloatField(default=0)  # kg
    relative_volume_load = models.FloatField(null=True, blank=True)  # reps x share of a max
    reps = models.PositiveIntegerField(default=0)
    hard_sets = models.PositiveSmallIntegerField(default=0)
    sets = models.PositiveSmallIntegerField(default=0)
    sets_with_effort = models.PositiveSmallIntegerField(default=0)
    average_intensity = models.FloatField(null=True, blank=True)  # share of a max, by reps
    computed_at = models.DateTimeField(default=timezone.now)

    class Meta:
        ordering = ["day"]
        constraints = [
            models.UniqueConstraint(fields=["athlete", "day", "family"], name="one_summary_a_day")
        ]

    def __str__(self) -> str:
        return f"{self.day} {self.family or 'all'}"
