"""Long work as a row: the row is the truth, a Celery message only says "look now"."""

from django.db import models
from django.utils import timezone

from coachdesk.common.leases import LeasedRow
from reviews.intake.models.clip import Clip


class JobState(models.TextChoices):
    QUEUED = "queued", "waiting its turn"
    RUNNING = "running", "running"
    DONE = "done", "done"
    FAILED = "failed", "failed"


class MediaJob(LeasedRow):
    """One row per (clip, recipe). A lease has one holder; finishing twice changes nothing."""

    clip = models.ForeignKey(Clip, on_delete=models.CASCADE, related_name="jobs")
    recipe = models.PositiveSmallIntegerField()
    state = models.CharField(max_length=8, choices=JobState.choices, default=JobState.QUEUED)
    progress = models.FloatField(default=0)  # 0 to 1
    holder = models.CharField(max_length=64, blank=True)
    heartbeat_at = models.DateTimeField(null=True, blank=True)
    last_error = models.TextField(blank=True)
    # What of the machine it waits for (reviews.media.machine.Part), and how often it has. Such
    # waits are no attempts: nothing is wrong with the clip.
    fault = models.CharField(max_length=8, blank=True)
    waits = models.PositiveSmallIntegerField(default=0)
    queued_at = models.DateTimeField(default=timezone.now)
    sent_at = models.DateTimeField(null=True, blank=True)  # last message that the broker took
    finished_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["queued_at"]
        indexes = [models.Index(fields=["state", "due_at"], name="job_sweep")]
        constraints = [
            models.UniqueConstraint(fields=["clip", "recipe"], name="one_job_per_recipe"),
            models.CheckConstraint(
                condition=~models.Q(state="running")
                | (models.Q(due_at__isnull=False) & ~models.Q(holder="")),
                name="running_has_a_lease",
            ),
        ]

    def __str__(self) -> str:
        return f"{self.clip_id} recipe {self.recipe}: {self.state}"
