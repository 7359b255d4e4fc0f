"""Weeks x sessions. A programme without an athlete is a template."""

import uuid

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.utils import timezone

from athletes.models import Club, User
from coachdesk.common.validators import validate_name


class Programme(models.Model):
    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="programmes")
    athlete = models.ForeignKey(
        User, on_delete=models.CASCADE, null=True, blank=True, related_name="programmes"
    )
    name = models.CharField(max_length=120, validators=[validate_name])
    starts_on = models.DateField(null=True, blank=True)  # a template has no dates
    weeks = models.PositiveSmallIntegerField(
        default=4, validators=[MinValueValidator(1), MaxValueValidator(52)]
    )
    made_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    ended_at = models.DateTimeField(null=True, blank=True)
    # Every change raises it; a write that saw an older one is refused, not merged over.
    revision = models.PositiveIntegerField(default=1)

    class Meta:
        ordering = ["-starts_on", "name"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(athlete=None) | models.Q(starts_on__isnull=False),
                name="an_athletes_programme_has_dates",
            )
        ]

    def __str__(self) -> str:
        return self.name


class PlannedSession(models.Model):
    is_trained: bool  # of `with_training`

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    programme = models.ForeignKey(Programme, on_delete=models.CASCADE, related_name="sessions")
    week = models.PositiveSmallIntegerField()  # 1 is the first
    # The place in the week that the same session keeps in every week: the grid draws it as one
    # band. It is not the order of days: a session moved to another day keeps its place.
    position = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=80, blank=True, validators=[validate_name])
    day = models.DateField(null=True, blank=True)  # the athlete's local date; none in a template
    # A template has weekdays in place of dates: 0 is Monday (as date.weekday() counts).
    weekday = models.PositiveSmallIntegerField(
        null=True, blank=True, validators=[MaxValueValidator(6)]
    )
    note = models.TextField(blank=True, max_length=1000)

    class Meta:
        ordering = ["week", "position"]
        indexes = [models.Index(fields=["day"], name="planned_by_day")]
        constraints = [
            models.UniqueConstraint(
                fields=["programme", "week", "position"], name="one_session_a_place"
            ),
            models.CheckConstraint(
                condition=models.Q(day__isnull=False, weekday=None)
                | models.Q(day=None, weekday__isnull=False, weekday__lte=6),
                name="a_date_or_a_weekday",
            ),
        ]

    def __str__(self) -> str:
        return self.name or f"Session {self.position}"
