"""A mail that waits to be sent. The row is the truth: a lost task only waits for the sweep."""

from django.db import models
from django.db.models import Q
from django.utils import timezone

from coachdesk.common.leases import LeasedRow

TEXT = "text"
PASSWORD_RESET = "password reset"


class Mail(LeasedRow):
    """Gone once it is sent, because what it says may open a door.

    Of the kinds only TEXT is stored as it will be read. The others (`deliver_mail.writes`) are
    written from the row `about` when they are sent: nothing is kept twice, and what was taken back
    stays unsent. No `due_at`: given up, and emptied.
    """

    kind = models.CharField(max_length=16)
    about = models.PositiveBigIntegerField(null=True, blank=True)
    to = models.EmailField(blank=True)
    subject = models.CharField(max_length=255, blank=True)
    body = models.TextField(blank=True)
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    expires_at = models.DateTimeField()
    problem = models.CharField(max_length=80, blank=True)  # of the last try; never an address

    class Meta:
        indexes = [
            models.Index(fields=["due_at"], name="mails_due", condition=Q(due_at__isnull=False))
        ]

    def __str__(self) -> str:
        return f"mail {self.pk}: {self.kind}"
