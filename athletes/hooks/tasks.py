"""Celery's way in. Rows are the truth; a lost message is found by the sweep."""

from datetime import timedelta
from uuid import UUID

from celery import shared_task
from django.utils import timezone

from athletes.hooks.delivering import deliver
from athletes.models import Delivery, KeptAnswer

AT_ONCE = 20  # a sweep is short; the next one goes on
KEPT = timedelta(hours=24)  # how long an answer can be asked for again
LOGGED = timedelta(days=30)


@shared_task
def deliver_one(delivery_id: str) -> None:
    deliver(UUID(delivery_id))


@shared_task
def sweep_deliveries() -> None:
    due = Delivery.objects.filter(due_at__lte=timezone.now()).order_by("due_at")
    for pk in list(due.values_list("pk", flat=True)[:AT_ONCE]):
        deliver(pk)


@shared_task
def forget_old() -> None:
    """Answers to repeated requests, and deliveries nobody looks up any more."""
    now = timezone.now()
    KeptAnswer.objects.filter(made_at__lt=now - KEPT).delete()
    Delivery.objects.filter(made_at__lt=now - LOGGED, due_at=None).delete()
