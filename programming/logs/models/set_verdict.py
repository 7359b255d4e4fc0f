"""How the reps of one filmed set were judged against the technical standard."""

from django.db import models

from athletes.models import User
from programming.logs.models.logged_session import LoggedSet
from programming.movements.models import Movement


class SetVerdict(models.Model):
    """One row a filmed set. ``source`` is the clip's id: whoever judges owns the link to it.

    "Can't tell" is neither a fault nor a pass: it enters no estimate.
    """

    source = models.UUIDField(unique=True)
    athlete = models.ForeignKey(User, on_delete=models.CASCADE, related_name="set_verdicts")
    movement = models.ForeignKey(Movement, on_delete=models.RESTRICT, related_name="verdicts")
    day = models.DateField()  # the athlete's local date
    load_kg = models.DecimalField(max_digits=7, decimal_places=3)
    reps = models.PositiveSmallIntegerField()
    rpe = models.DecimalField(max_digits=3, decimal_places=1, null=True, blank=True)
    to_standard = models.PositiveSmallIntegerField(default=0)
    not_to_standard = models.PositiveSmallIntegerField(default=0)
    cannot_tell = models.PositiveSmallIntegerField(default=0)
    # The same set in the athlete's log, when it is known: it must not count twice.
    logged_set = models.OneToOneField(
        LoggedSet, on_delete=models.SET_NULL, null=True, blank=True, related_name="verdict"
    )

    class Meta:
        ordering = ["day", "pk"]
        indexes = [models.Index(fields=["athlete", "movement", "day"], name="verdicts_by_lift")]

    def __str__(self) -> str:
        return f"{self.movement} {self.load_kg} x {self.reps}: {self.to_standard} to standard"
