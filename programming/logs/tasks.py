"""Celery's way in. Rows are the truth; a lost message is found by the sweep."""

from celery import shared_task

from athletes.models import Role, User
from programming.logs import proving, proving_maxes, summarising
from programming.logs.models import TouchedDay


@shared_task(ignore_result=True)
def summarise_touched(athlete_id: int) -> None:
    summarising.catch_up(athlete_id)


@shared_task(ignore_result=True)
def sweep_touched() -> None:
    waiting = TouchedDay.objects.order_by().values_list("athlete_id", flat=True).distinct()
    for athlete_id in list(waiting):
        summarising.catch_up(athlete_id)


@shared_task(ignore_result=True)
def prove_summaries() -> None:
    people = User.objects.filter(role=Role.ATHLETE).order_by("pk").values_list("pk", flat=True)
    athletes = list(people)
    proving_maxes.prove(athletes)  # first: relative volume follows the best max
    proving.prove(athletes)
