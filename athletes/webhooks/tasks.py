"""Celery's way in. Rows are the truth; a lost message is found by the sweep."""

from datetime import timedelta
from uuid import UUID

from celery import shared_task
from django.utils import timezone

from athletes.webhooks.deliver_webhook import deliver
from athletes.webhooks.models import Delivery

AT_ONCE = 20  # a sweep is short; the next one goes on
LOGGED = timedelta(days=30)


@shared_task
def deliver_one(delivery_id: str) -> None:
    deliver(UUID(delivery_id))


@shared_task
def sweep_deliveries() -> None:
    due = Delivery.objects.due().order_by("due_at")
    for pk in list(due.values_list("pk", flat=True)[:AT_ONCE]):
        deliver(pk)


@shared_task
def delete_old_deliveries() -> None:
    """Those that nobody looks up any more."""
    Delivery.objects.filter(made_at__lt=timezone.now() - LOGGED, due_at=None).delete()
