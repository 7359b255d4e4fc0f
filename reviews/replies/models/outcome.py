"""What became of a focus point, seen on the check-back and said by a coach."""

from typing import Any, ClassVar, NoReturn

from django.db import models
from django.utils import timezone

from athletes.models import User
from reviews.intake.models import Submission
from reviews.library.models import Cue, Drill, Fault
from reviews.replies.models.reply import ReplyVersion


class Result(models.TextChoices):
    GONE = "gone", "Gone"
    BETTER = "better", "Better"
    SAME = "same", "The same"
    WORSE = "worse", "Worse"
    CANNOT_TELL = "cannot-tell", "Can't tell"


class Unchangeable(ValueError):
    """Somebody tried to rewrite what a coach once said."""

    def __init__(self) -> None:
        super().__init__("An outcome is never rewritten; add a new one.")


class OutcomeQuerySet(models.QuerySet["Outcome"]):
    """Refuses every bulk way around `Outcome.save`; a cascade of erasing does not pass here."""

    def update(self, **changes: Any) -> NoReturn:
        raise Unchangeable

    def bulk_create(self, objs: Any, *args: Any, **kwargs: Any) -> Any:
        """Only to insert: "update on conflict" would rewrite."""
        if args or kwargs:
            raise Unchangeable
        return super().bulk_create(objs)

    def delete(self) -> NoReturn:
        raise Unchangeable

    def newest(self) -> models.QuerySet["Outcome"]:
        """The row that counts for each point of each check-back: what was said of it last."""
        later = self.model.objects.filter(
            check_back=models.OuterRef("check_back"),
            note=models.OuterRef("note"),
            pk__gt=models.OuterRef("pk"),
        )
        return self.filter(~models.Exists(later))


OutcomeManager = models.Manager.from_queryset(OutcomeQuerySet)


class Outcome(models.Model):
    """One coach's word on one focus point of the reply that a check-back follows. Append-only: a
    changed mind is a new row, and the newest counts.

    The words are those of the point as it was sent; the keys let the library count what works.
    """

    check_back = models.ForeignKey(Submission, on_delete=models.CASCADE, related_name="outcomes")
    version = models.ForeignKey(ReplyVersion, on_delete=models.CASCADE, related_name="outcomes")
    note = models.UUIDField()  # the focus point: the note that was frozen in `version`
    # Its number there; none for what was left for now and changed the programme all the same.
    number = models.PositiveSmallIntegerField(null=True, blank=True)
    fault = models.ForeignKey(
        Fault, on_delete=models.RESTRICT, null=True, blank=True, related_name="outcomes"
    )
    cue = models.ForeignKey(
        Cue, on_delete=models.RESTRICT, null=True, blank=True, related_name="outcomes"
    )
    drill = models.ForeignKey(
        Drill, on_delete=models.RESTRICT, null=True, blank=True, related_name="outcomes"
    )
    fault_name = models.CharField(max_length=80, blank=True)
    cue_text = models.CharField(max_length=120, blank=True)
    drill_text = models.CharField(max_length=260, blank=True)
    result = models.CharField(max_length=12, choices=Result.choices)
    confirmed_by = models.ForeignKey(User, on_delete=models.PROTECT, related_name="+")
    confirmed_at = models.DateTimeField(default=timezone.now, editable=False)

    objects: ClassVar[OutcomeManager] = OutcomeManager()

    class Meta:
        base_manager_name = "objects"
        ordering = ["pk"]
        indexes = [models.Index(fields=["check_back", "note"], name="outcomes_of_a_point")]

    def __str__(self) -> str:
        return f"{self.fault_name or f'point {self.number}'}: {self.get_result_display().lower()}"

    def save(self, *args: Any, **kwargs: Any) -> None:
        if not self._state.adding or self.pk:
            raise Unchangeable
        super().save(*args, **kwargs)

    def delete(self, *args: Any, **kwargs: Any) -> NoReturn:
        raise Unchangeable
