"""Something happened: a row for each address that wants to know."""

import logging
from typing import Any

from django.db import transaction
from django.utils import timezone
from kombu.exceptions import OperationalError
from redis.exceptions import RedisError

from athletes.hooks.tasks import deliver_one
from athletes.models import Delivery, Event, Webhook

log = logging.getLogger(__name__)


def tell(*, club_id: int, event: Event, **facts: Any) -> None:
    """Call it inside the transaction of what happened: both, or neither. ``facts`` are ids, and no
    words of anybody: whoever may read those asks the API for them."""
    hooks = Webhook.objects.filter(club=club_id, ended_at=None)
    body = {"event": event.value, "at": timezone.now().isoformat(), **facts}
    for hook in hooks:
        if event.value in hook.events:
            row = Delivery.objects.create(webhook=hook, event=event, payload=body)
            transaction.on_commit(lambda pk=str(row.pk): _enqueue(pk))  # type: ignore[misc]


def _enqueue(delivery_id: str) -> None:
    try:
        deliver_one.delay(delivery_id)
    except (OperationalError, RedisError, OSError) as error:
        log.warning("delivery %s waits for the sweep: %s", delivery_id, error)
