"""Celery's way in. Rows are the truth; a lost message is found by the sweep."""

from celery import shared_task

from athletes.models import Role, User
from programming.logs.models import DirtyDay
from programming.logs.services import summarize_days
from programming.logs.services.reconcile_days import reconcile_days, reconcile_maxes


@shared_task(ignore_result=True)
def summarize_dirty_days(athlete_id: int) -> None:
    summarize_days.summarize_dirty_days(athlete_id)


@shared_task(ignore_result=True)
def sweep_dirty_days() -> None:
    waiting = DirtyDay.objects.order_by().values_list("athlete_id", flat=True).distinct()
    for athlete_id in list(waiting):
        summarize_days.summarize_dirty_days(athlete_id)


@shared_task(ignore_result=True)
def reconcile_all() -> None:
    people = User.objects.filter(role=Role.ATHLETE).order_by("pk").values_list("pk", flat=True)
    athletes = list(people)
    reconcile_maxes(athletes)  # first: relative volume follows the best max
    reconcile_days(athletes)
