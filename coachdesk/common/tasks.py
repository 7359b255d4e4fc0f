"""What the clock clears away."""

from datetime import timedelta

from celery import shared_task
from django.utils import timezone

from coachdesk.common.models import IdempotencyRecord

KEPT = timedelta(hours=24)  # how long an answer can be asked for again


@shared_task
def delete_old_idempotency_records() -> None:
    IdempotencyRecord.objects.filter(made_at__lt=timezone.now() - KEPT).delete()
