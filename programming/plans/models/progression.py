"""How one row of a programme goes on from week to week: a rule that stays visible."""

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from athletes.models import Unit
from programming.plans.models.programme import Programme


class Step(models.TextChoices):
    AMOUNT = "amount", "an amount"  # kg or lb, points of a percentage, RPE or reps in reserve
    SHARE = "share", "a share of the first week's load"


class Progression(models.Model):
    """The numbers it leads to are written into the prescriptions; a hand may change one of them,
    and the rule still says what it would have been."""

    programme = models.ForeignKey(Programme, on_delete=models.CASCADE, related_name="progressions")
    row = models.UUIDField()
    from_week = models.PositiveSmallIntegerField()  # whose numbers it starts from
    step = models.CharField(max_length=6, choices=Step.choices, default=Step.AMOUNT)
    amount = models.DecimalField(max_digits=6, decimal_places=2)  # a week; below 0 it goes down
    unit = models.CharField(max_length=2, choices=Unit.choices, default=Unit.KG)
    # Every how many weeks, counted from `from_week`, is an easier one; none where empty.
    deload_every = models.PositiveSmallIntegerField(
        null=True, blank=True, validators=[MinValueValidator(2), MaxValueValidator(12)]
    )
    deload_percent = models.DecimalField(max_digits=5, decimal_places=2, default=85)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["programme", "row"], name="one_rule_a_row"),
            models.CheckConstraint(
                condition=models.Q(deload_percent__gt=0, deload_percent__lt=100),
                name="a_deload_is_lighter",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.amount} a week from week {self.from_week}"
