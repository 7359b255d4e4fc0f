"""One line of a session: what, how often, how heavy."""

import uuid
from decimal import Decimal
from typing import TYPE_CHECKING

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models

from athletes.models import Unit
from programming.movements.models import Movement
from programming.plans.models.programme import PlannedSession
from programming.plans.notation import Dose

if TYPE_CHECKING:
    from programming.plans.models.correction import Change


class TargetKind(models.TextChoices):
    KG = "kg", "kg"
    TECHNICAL = "technical", "% of technical max"
    BEST = "best", "% of best max"
    RPE = "rpe", "RPE"
    RIR = "rir", "reps in reserve"
    NONE = "", "by feel"


class Prescription(models.Model):
    """``row`` is shared by the same line in every week of a programme: a progression runs along
    it, and the grid draws it as one row."""

    running: "list[Change]"  # of `with_corrections`

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    session = models.ForeignKey(
        PlannedSession, on_delete=models.CASCADE, related_name="prescriptions"
    )
    row = models.UUIDField(default=uuid.uuid4, db_index=True)
    position = models.PositiveSmallIntegerField(default=1)
    movement = models.ForeignKey(Movement, on_delete=models.RESTRICT, related_name="prescriptions")
    sets = models.PositiveSmallIntegerField(
        validators=[MinValueValidator(1), MaxValueValidator(20)]
    )
    reps = models.PositiveSmallIntegerField(
        validators=[MinValueValidator(1), MaxValueValidator(100)]
    )
    target_kind = models.CharField(max_length=9, choices=TargetKind.choices, blank=True)
    # kg, percent, RPE or reps in reserve, as target_kind says.
    target = models.DecimalField(max_digits=7, decimal_places=3, null=True, blank=True)
    unit = models.CharField(max_length=2, choices=Unit.choices, default=Unit.KG)  # as typed
    # Never heavier than this share of the technical max (a correction sets it).
    cap_percent = models.DecimalField(max_digits=5, decimal_places=2, null=True, blank=True)
    held = models.BooleanField(default=False)  # a correction took it out for now
    tempo = models.CharField(max_length=20, blank=True)
    rest_seconds = models.PositiveSmallIntegerField(null=True, blank=True)
    note = models.CharField(max_length=300, blank=True)

    class Meta:
        ordering = ["position"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(target_kind="", target=None)
                | (~models.Q(target_kind="") & models.Q(target__gte=0)),
                name="a_target_has_its_number",
            ),
            models.CheckConstraint(
                condition=models.Q(cap_percent=None)
                | models.Q(cap_percent__gt=0, cap_percent__lte=100),
                name="a_cap_is_at_most_the_max",
            ),
        ]

    @property
    def dose(self) -> Dose:
        """As the notation writes it."""
        names = ("sets", "reps", "target", "unit", "cap_percent", "tempo", "rest_seconds")
        return Dose(kind=self.target_kind, **{name: getattr(self, name) for name in names})

    @property
    def target_rpe(self) -> Decimal | None:
        return self.target if self.target_kind == TargetKind.RPE else None

    def __str__(self) -> str:
        return f"{self.movement} {self.sets} x {self.reps}"
