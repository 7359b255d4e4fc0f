"""What athlete and coach write to each other below a submission."""

from django.db import models
from django.utils import timezone

from athletes.models import User
from reviews.intake.models import Submission


class Message(models.Model):
    submission = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="messages")
    author = models.ForeignKey(User, on_delete=models.CASCADE, related_name="+")
    text = models.TextField()
    sent_at = models.DateTimeField(default=timezone.now, editable=False)
    # When the other side first opened the page that shows it.
    read_at = models.DateTimeField(null=True, blank=True)
    # An athlete wrote it and no coach has answered or set it aside since: it stands on the desk.
    open = models.BooleanField(default=False)

    class Meta:
        ordering = ["sent_at", "pk"]
        indexes = [
            # A club's open questions are few among all that was ever written.
            models.Index(fields=["sent_at"], condition=models.Q(open=True), name="open_messages")
        ]

    def __str__(self) -> str:
        return self.text[:60]
