"""What is lifted, in the exact variant that has its own max."""

from django.db import models

from athletes.models import Club, User
from coachdesk.common.validators import validate_name
from programming.movements.families import Family


class Movement(models.Model):
    """One exact variant. Rows without a club are shipped and shared."""

    club = models.ForeignKey(
        Club, on_delete=models.CASCADE, null=True, blank=True, related_name="movements"
    )
    # A variant of one athlete's own, such as a technique being rebuilt.
    athlete = models.ForeignKey(
        User, on_delete=models.CASCADE, null=True, blank=True, related_name="movements"
    )
    # Remembered, never inherited from: the new variant's max starts from what it is lifted at.
    parent = models.ForeignKey(
        "self", on_delete=models.RESTRICT, null=True, blank=True, related_name="rebuilt_as"
    )
    family = models.CharField(max_length=8, choices=Family.choices)
    name = models.CharField(max_length=80, validators=[validate_name])
    bar_position = models.CharField(max_length=40, blank=True)
    stance = models.CharField(max_length=40, blank=True)
    grip = models.CharField(max_length=40, blank=True)
    equipment = models.CharField(max_length=40, blank=True)
    tempo = models.CharField(max_length=40, blank=True)
    order = models.PositiveSmallIntegerField(default=100)
    # No longer offered; what was lifted and prescribed with it keeps its name.
    retired_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["order", "name"]
        constraints = [
            models.UniqueConstraint(
                fields=["club", "name"],
                condition=models.Q(athlete=None),
                name="one_name_per_club",
            ),
            models.UniqueConstraint(
                fields=["athlete", "name"],
                condition=models.Q(athlete__isnull=False),
                name="one_name_per_athlete",
            ),
            models.UniqueConstraint(
                fields=["name"], condition=models.Q(club=None), name="one_shipped_name"
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def exactly(self) -> str:
        """What makes the variant exact, in words: "low bar, knee wraps"."""
        facts = (self.bar_position, self.stance, self.grip, self.equipment, self.tempo)
        return ", ".join(fact for fact in facts if fact)
