"""Faults, the cues that fix them and the drills that go with them. Each club keeps its own."""

from django.db import models
from django.db.models import F, Q
from django.utils import timezone

from athletes.models import Club, User
from coachdesk.common.validators import validate_name
from programming.movements.families import Family, Phase


class Breaks(models.TextChoices):
    """Whether a rep with this fault still counts as lifted to standard."""

    YES = "yes", "Breaks the technical standard"
    DEGREE = "degree", "Breaks it from a certain degree on"
    NO = "no", "Does not break it"


class Sight(models.TextChoices):
    YES = "yes", "can be seen"
    PARTLY = "partly", "partly"
    NO = "no", "cannot tell"


class Entry(models.Model):
    """What faults, cues and drills share: they are retired, never deleted.

    One that was merged into another is retired, and points at the one that is used now.
    """

    added_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )
    added_at = models.DateTimeField(default=timezone.now, editable=False)
    retired_at = models.DateTimeField(null=True, blank=True)
    merged_into = models.ForeignKey(
        "self", on_delete=models.RESTRICT, null=True, blank=True, related_name="merged"
    )

    class Meta:
        abstract = True
        constraints = [
            models.CheckConstraint(
                condition=Q(merged_into=None) | Q(retired_at__isnull=False),
                name="%(class)s_merged_is_retired",
            ),
            models.CheckConstraint(
                condition=Q(merged_into=None) | ~Q(merged_into=F("pk")),
                name="%(class)s_not_merged_into_itself",
            ),
        ]


class Fault(Entry):
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="faults")
    family = models.CharField(max_length=8, choices=Family.choices)
    phase = models.CharField(max_length=10, choices=Phase.choices)
    name = models.CharField(max_length=80, validators=[validate_name])
    see = models.TextField("how to see it", blank=True)
    sight = models.JSONField(default=dict, blank=True)  # view -> Sight
    causes = models.TextField("likely causes, one a line", blank=True)
    breaks = models.CharField(max_length=6, choices=Breaks.choices, default=Breaks.DEGREE)
    breaks_note = models.TextField(blank=True)
    goal_note = models.TextField("what depends on the goal", blank=True)

    class Meta(Entry.Meta):
        ordering = ["family", "name"]
        constraints = [
            *Entry.Meta.constraints,
            models.UniqueConstraint(fields=["club", "family", "name"], name="one_fault_per_name"),
        ]

    def __str__(self) -> str:
        return self.name

    def sight_from(self, view: str) -> Sight:
        """What a camera there can show of it. Where it stood is not said, or the entry does not
        say: taken as one that can, for the coach sees it."""
        return Sight(self.sight.get(view, Sight.YES))

    @property
    def cause_list(self) -> list[str]:
        return [line.strip() for line in self.causes.splitlines() if line.strip()]


class Cue(Entry):
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="cues")
    faults = models.ManyToManyField(Fault, related_name="cues")
    text = models.CharField(max_length=120)
    outside_focus = models.BooleanField("points at something outside the body", default=True)

    class Meta(Entry.Meta):
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.text


class Drill(Entry):
    club = models.ForeignKey(Club, on_delete=models.CASCADE, related_name="drills")
    faults = models.ManyToManyField(Fault, related_name="drills")
    name = models.CharField(max_length=80, validators=[validate_name])
    dose = models.CharField(max_length=160, blank=True)

    class Meta(Entry.Meta):
        ordering = ["pk"]

    def __str__(self) -> str:
        return self.name
