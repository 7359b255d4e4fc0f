"""The answer while it takes shape, and each version of it that was sent."""

from typing import Any, ClassVar, NoReturn

from django.db import models
from django.utils import timezone
from django.utils.functional import cached_property

from athletes.models import User
from reviews.intake.models import Submission

# Reading is a fact about a version, not part of what was sent.
FACTS = {"understood_at"}


class Reply(models.Model):
    """The answer while it takes shape. What was sent is in its versions."""

    submission = models.OneToOneField(Submission, on_delete=models.CASCADE, related_name="reply")
    opening = models.TextField(blank=True)
    film_again_by = models.DateField(null=True, blank=True)
    film_again_note = models.TextField(blank=True)
    saved_at = models.DateTimeField(auto_now=True)

    class Meta:
        verbose_name_plural = "replies"

    def __str__(self) -> str:
        return f"Reply to {self.submission}"

    @cached_property
    def last_number(self) -> int:
        """Of the version that was sent last; 0 while none was. One statement."""
        last = self.versions.first() if self.pk else None
        return last.number if last else 0


class Frozen(ValueError):
    """Somebody tried to change what the athlete was sent."""

    def __init__(self) -> None:
        super().__init__("A published version never changes; publish a new one.")


class VersionQuerySet(models.QuerySet["ReplyVersion"]):
    """Refuses every bulk way around `ReplyVersion.save`. Erasing the person whose reply it is
    still takes the versions along: a cascade does not pass here."""

    def update(self, **changes: Any) -> int:
        if not set(changes) <= FACTS:
            raise Frozen
        return super().update(**changes)

    def bulk_create(self, objs: Any, *args: Any, **kwargs: Any) -> Any:
        """Only to insert: "update on conflict" would rewrite what was sent."""
        if args or kwargs:
            raise Frozen
        return super().bulk_create(objs)

    def delete(self) -> NoReturn:
        raise Frozen


VersionManager = models.Manager.from_queryset(VersionQuerySet)


class ReplyVersion(models.Model):
    """What the athlete was sent. It never changes; a later edit is a new version."""

    reply = models.ForeignKey(Reply, on_delete=models.CASCADE, related_name="versions")
    number = models.PositiveSmallIntegerField()
    content = models.JSONField()
    sent_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    sent_at = models.DateTimeField(default=timezone.now, editable=False)
    understood_at = models.DateTimeField(null=True, blank=True)

    objects: ClassVar[models.Manager["ReplyVersion"]] = VersionManager()

    class Meta:
        base_manager_name = "objects"  # or `_base_manager` would be a way around the guard
        ordering = ["-number"]
        constraints = [
            models.UniqueConstraint(fields=["reply", "number"], name="one_version_per_number")
        ]

    def __str__(self) -> str:
        return f"version {self.number}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if not self._state.adding or self.pk:
            raise Frozen
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        raise Frozen
