"""Keys with which a program acts for a person."""

import uuid

from django.db import models
from django.utils import timezone

from athletes.models import User
from coachdesk.common.validators import validate_name


class Area(models.TextChoices):
    """What a token can be limited to."""

    SUBMISSIONS = "submissions", "Submissions and clips"
    REVIEWS = "reviews", "Reviews, replies and the library"
    PROGRAMME = "programme", "Programmes and corrections"
    LOG = "log", "Training log, maxes and load"
    CLUB = "club", "People of the club"


READ, WRITE = "read", "write"


class ApiToken(models.Model):
    """A token may do less than its person, never more."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    user = models.ForeignKey(User, on_delete=models.CASCADE, related_name="api_tokens")
    name = models.CharField(max_length=80, validators=[validate_name])
    # Only the digest is kept: a leaked database opens no door. The secret is 256 random bits, so a
    # plain digest is as good as a slow one, and costs nothing at each request.
    digest = models.CharField(max_length=64, unique=True, editable=False)
    scopes = models.JSONField(default=list)  # "log:read"; write includes read
    made_at = models.DateTimeField(default=timezone.now, editable=False)
    expires_at = models.DateTimeField()
    last_used_on = models.DateField(null=True, blank=True)  # a day: not a trace of somebody's hours
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at"]

    def __str__(self) -> str:
        return self.name

    def allows(self, area: str, action: str) -> bool:
        wanted = {f"{area}:{WRITE}"} | ({f"{area}:{READ}"} if action == READ else set())
        return bool(wanted & set(self.scopes))

    @property
    def is_open(self) -> bool:
        return self.revoked_at is None and self.expires_at > timezone.now()

    @property
    def scope_words(self) -> list[str]:
        return [
            f"{area.label}: {'read and write' if self.allows(area, WRITE) else 'read'}"
            for area in Area
            if self.allows(area, READ)
        ]
