"""What is lifted, in the exact variant that has its own max."""

from django.db import models

from athletes.models import Club
from programming.movements.families import Family


class Movement(models.Model):
    """One exact variant. Rows without a club are shipped and shared."""

    club = models.ForeignKey(
        Club, on_delete=models.CASCADE, null=True, blank=True, related_name="movements"
    )
    family = models.CharField(max_length=8, choices=Family.choices)
    name = models.CharField(max_length=80)
    bar_position = models.CharField(max_length=40, blank=True)
    stance = models.CharField(max_length=40, blank=True)
    grip = models.CharField(max_length=40, blank=True)
    equipment = models.CharField(max_length=40, blank=True)
    tempo = models.CharField(max_length=40, blank=True)
    order = models.PositiveSmallIntegerField(default=100)

    class Meta:
        ordering = ["order", "name"]
        constraints = [
            models.UniqueConstraint(fields=["club", "name"], name="one_name_per_club"),
            models.UniqueConstraint(
                fields=["name"], condition=models.Q(club=None), name="one_shipped_name"
            ),
        ]

    def __str__(self) -> str:
        return self.name
