"""A max is a dated record with its source; the current one is derived from them."""

from typing import Any

from django.db import models
from django.utils import timezone

from athletes.models import User
from programming.movements.models import Movement


class MaxKind(models.TextChoices):
    BEST = "best", "best max"  # over all sets
    TECHNICAL = "technical", "technical max"  # only sets in which every reviewed rep was good


class MaxSource(models.TextChoices):
    ESTIMATE = "estimate", "estimated from a set"
    HAND = "hand", "set by hand"


class MaxRecord(models.Model):
    """From ``day`` on the max is ``kg``, until a later record.

    What a person set is append-only. What was estimated follows the log: it is the steps of
    `programming.load.rises.rises`, and a set that is corrected or taken out takes its step along.
    A rebuilt movement never inherits its parent's records.
    """

    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="max_records")
    movement = models.ForeignKey(Movement, on_delete=models.RESTRICT, related_name="max_records")
    kind = models.CharField(max_length=9, choices=MaxKind.choices)
    source = models.CharField(max_length=8, choices=MaxSource.choices)
    day = models.DateField()
    kg = models.DecimalField(max_digits=7, decimal_places=3)
    low_kg = models.DecimalField(max_digits=7, decimal_places=3)  # "could be low to high"
    high_kg = models.DecimalField(max_digits=7, decimal_places=3)
    inputs = models.JSONField(default=dict, blank=True)  # equation, and the set it came from
    reason = models.CharField(max_length=300, blank=True)
    set_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    recorded_at = models.DateTimeField(default=timezone.now, editable=False)

    class Meta:
        ordering = ["day", "recorded_at"]
        indexes = [models.Index(fields=["athlete", "movement", "kind", "day"], name="maxes_of")]
        constraints = [
            models.UniqueConstraint(
                fields=["athlete", "movement", "kind", "day"],
                condition=models.Q(source="estimate"),
                name="one_estimate_a_day",
            ),
            models.CheckConstraint(
                condition=~models.Q(source="hand") | ~models.Q(reason=""),
                name="by_hand_says_why",
            ),
            models.CheckConstraint(
                condition=models.Q(
                    kg__gt=0, low_kg__lte=models.F("kg"), high_kg__gte=models.F("kg")
                ),
                name="max_within_its_band",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_kind_display()} of {self.movement}: {self.kg} kg"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if self.pk and self.source == MaxSource.HAND:
            raise ValueError("A max set by hand is never rewritten; set it again.")
        super().save(*args, **kwargs)
