"""Who is working on what."""

from django.db import models
from django.utils import timezone

from athletes.models import User
from reviews.intake.models import Submission


class Claim(models.Model):
    """At most one row per submission; it is live until its lease ends."""

    submission = models.OneToOneField(Submission, on_delete=models.CASCADE, related_name="claim")
    coach = models.ForeignKey(User, on_delete=models.CASCADE, related_name="claims")
    taken_at = models.DateTimeField(default=timezone.now)
    until = models.DateTimeField()
    # Who handed it over, until the coach who got it begins.
    handed_by = models.ForeignKey(
        User, on_delete=models.SET_NULL, null=True, blank=True, related_name="+"
    )

    class Meta:
        indexes = [
            # The desk reads the few that are live, and a coach's pace their last ones.
            models.Index(fields=["until"], name="live_claims"),
            models.Index(fields=["coach", "-taken_at"], name="last_claims"),
        ]

    def __str__(self) -> str:
        return f"{self.coach} until {self.until:%H:%M}"

    @property
    def is_live(self) -> bool:
        return self.until > timezone.now()
