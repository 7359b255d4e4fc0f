"""What an athlete can put on the bar: loads are rounded to it."""

from decimal import Decimal

from django.db import models

from athletes.models import Unit, User


class PlateSet(models.Model):
    athlete = models.OneToOneField(User, on_delete=models.CASCADE, related_name="plates")
    unit = models.CharField(max_length=2, choices=Unit.choices, default=Unit.KG)
    bar = models.DecimalField(max_digits=6, decimal_places=3, default=Decimal(20))  # in `unit`
    # Pairs at hand, in `unit`, as text so that 1.25 stays 1.25: [["25", 4], ["1.25", 1]]
    pairs = models.JSONField(default=list)

    def __str__(self) -> str:
        return f"Plates of {self.athlete}"
