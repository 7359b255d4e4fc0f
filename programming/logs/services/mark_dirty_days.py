"""The one place that hears when a training day changed: whatever is derived from it follows."""

from collections.abc import Collection
from datetime import date

from django.db import transaction

from athletes.models import User
from coachdesk.common.after_commit import send_after_commit
from programming.logs.models import DirtyDay, LoggedSet, MaxKind, MaxRecord
from programming.movements.models import Movement

TASK = "programming.logs.tasks.summarize_dirty_days"


def mark_days_dirty(athlete: User, days: Collection[date]) -> None:
    """Ask for the days to be summed up again. Call it inside the transaction that changes the log:
    the rows commit with the change, and the message that says "look now" goes out after it."""
    if not days:
        return
    with transaction.atomic():
        DirtyDay.objects.bulk_create(DirtyDay(athlete=athlete, day=day) for day in days)
        send_after_commit(TASK, athlete.pk)


def best_max_changed(athlete: User, movement: Movement, day: date) -> None:
    """A record of the best max was added (or taken away) on ``day``: relative volume follows it on
    every day the movement was lifted from there to the next record. Call it in the same
    transaction."""
    records = MaxRecord.objects.filter(athlete=athlete, movement=movement, kind=MaxKind.BEST)
    following = records.filter(day__gt=day).order_by("day").values_list("day", flat=True).first()
    lifted = LoggedSet.objects.filter(
        session__athlete=athlete, session__day__gte=day, movement=movement
    )
    if following:
        lifted = lifted.filter(session__day__lt=following)
    days = lifted.order_by().values_list("session__day", flat=True).distinct()
    mark_days_dirty(athlete, list(days))
