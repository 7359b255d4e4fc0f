"""Rows that no app owns."""

from django.conf import settings
from django.db import models
from django.utils import timezone


class IdempotencyRecord(models.Model):
    """The answer to a request that named an Idempotency-Key, given again when it is repeated
    (draft-ietf-httpapi-idempotency-key-header). ``status`` is empty while the first one runs."""

    user = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.CASCADE, related_name="+")
    key = models.CharField(max_length=128)
    fingerprint = models.CharField(max_length=64)  # of method, path and body
    status = models.PositiveSmallIntegerField(null=True)
    body = models.BinaryField(default=bytes)
    content_type = models.CharField(max_length=80, blank=True)
    made_at = models.DateTimeField(default=timezone.now, db_index=True)

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["user", "key"], name="one_answer_per_key"),
        ]

    def __str__(self) -> str:
        return f"{self.key}: {self.status or 'running'}"
