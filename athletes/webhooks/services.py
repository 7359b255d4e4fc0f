"""Adding and ending a club's webhooks, and telling them what happened."""

import secrets
from collections.abc import Iterable
from typing import Any
from urllib.parse import urlsplit
from uuid import UUID

from django.core.exceptions import PermissionDenied
from django.db import transaction
from django.utils import timezone

from athletes.models import Club, User
from athletes.webhooks.models import Delivery, Event, Webhook
from athletes.webhooks.public_addresses import resolve
from athletes.webhooks.selectors import open_webhooks
from coachdesk.common.after_commit import send_after_commit
from coachdesk.common.errors import Invalid

TASK = "athletes.webhooks.tasks.deliver_one"
MOST_OPEN = 10


class InvalidWebhook(Invalid):
    status = 400
    field = "url"


@transaction.atomic
def add_webhook(
    *, by: User, url: str, events: Iterable[str], address_problem: str
) -> tuple[Webhook, str]:
    """A webhook and its secret, which is shown this once. One transaction; ``address_problem`` was
    looked up before it, by the function of that name.

    Raises PermissionDenied for anybody but an owner, InvalidWebhook for an address or a choice.
    """
    if not by.is_owner:
        raise PermissionDenied
    chosen = [event for event in Event.values if event in set(events)]
    if not chosen:
        raise InvalidWebhook("Choose what it is told.")
    if address_problem:
        raise InvalidWebhook(address_problem)
    Club.objects.select_for_update().get(pk=by.club_id)
    if open_webhooks(by).count() >= MOST_OPEN:
        raise InvalidWebhook(f"{MOST_OPEN} webhooks are open. End one first.")
    secret = secrets.token_hex(32)
    made = Webhook.objects.create(
        club_id=by.club_id, url=url, events=chosen, secret=secret, made_by=by
    )
    return made, secret


def address_problem(url: str) -> str:
    """Why nothing can be sent there, as a sentence; empty when it can. It asks the network, which
    may take its time: never inside a transaction."""
    try:
        parts = urlsplit(url)
        port = parts.port or (443 if parts.scheme == "https" else 80)
    except ValueError:
        return "That is no address."
    if parts.scheme not in {"http", "https"} or not parts.hostname:
        return "An address begins with https://."
    if parts.username or parts.password:
        return "Leave name and password out of the address: the signature tells it is us."
    try:
        resolve(parts.hostname, port)
    except Invalid as why:
        return str(why)
    return ""


@transaction.atomic
def end_webhook(*, by: User, webhook_id: UUID) -> bool:
    """Nothing is sent there any more, what still waits neither. One transaction."""
    ended = open_webhooks(by).filter(pk=webhook_id).update(ended_at=timezone.now())
    Delivery.objects.filter(webhook=webhook_id, webhook__ended_at__isnull=False).update(due_at=None)
    return bool(ended)


def emit(*, club_id: int, event: Event, **facts: Any) -> None:
    """Call it inside the transaction of what happened: both, or neither. ``facts`` are ids, and no
    words of anybody: whoever may read those asks the API for them."""
    hooks = Webhook.objects.filter(club=club_id, ended_at=None)
    body = {"event": event.value, "at": timezone.now().isoformat(), **facts}
    for hook in hooks:
        if event.value in hook.events:
            row = Delivery.objects.create(webhook=hook, event=event, payload=body)
            send_after_commit(TASK, str(row.pk))
