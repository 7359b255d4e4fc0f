"""Taking one telling to its address, with patience."""

import hmac
import json
from datetime import datetime, timedelta
from typing import Any
from urllib.parse import urlsplit
from uuid import UUID

import httpx
from django.utils import timezone

from athletes.webhooks.models import Delivery, Webhook
from athletes.webhooks.public_addresses import resolve
from coachdesk.common.errors import Invalid
from coachdesk.common.leases import LeasedQuerySet

# After each failure. A receiver that was away for a night still hears everything.
WAITS = [timedelta(**one) for one in (
    {"seconds": 10}, {"minutes": 1}, {"minutes": 10}, {"hours": 1}, {"hours": 6}, {"hours": 12},
)]  # fmt: skip
TIMEOUT = httpx.Timeout(10, connect=5)
LEASE = timedelta(minutes=2)  # longer than any attempt: nobody else takes it meanwhile
MOST_READ = 64 * 1024


def deliver(delivery_id: UUID) -> bool:
    """One attempt, if it is due. No statement waits for somebody else's server. True when it was
    taken."""
    row = open_deliveries().lease(delivery_id, LEASE)
    if row is None:
        return False
    status, problem = _send(row)
    taken = status is not None and 200 <= status < 300
    open_deliveries().filter(pk=row.pk).update(
        status=status,
        problem=problem[:200],
        taken_at=timezone.now() if taken else None,
        due_at=None if taken else _again(row.attempts),
    )
    return taken


def open_deliveries() -> LeasedQuerySet[Delivery]:
    """Deliveries to webhooks that nobody has ended."""
    return Delivery.objects.filter(webhook__in=Webhook.objects.filter(ended_at=None))


def _again(attempts: int) -> datetime | None:
    return timezone.now() + WAITS[attempts - 1] if attempts <= len(WAITS) else None


def _send(row: Delivery) -> tuple[int | None, str]:
    """(status, what went wrong). Connects to the address that was checked, under the name that
    was asked for: a second look-up could answer something else."""
    body = json.dumps({"id": str(row.pk), **row.payload}, separators=(",", ":")).encode()
    signed = signature(secret=row.webhook.secret, moment=timezone.now(), body=body)
    headers = {
        "Content-Type": "application/json",
        "User-Agent": "Coachdesk",
        "Coachdesk-Event": row.event,
        "Coachdesk-Delivery": str(row.pk),
        "Coachdesk-Signature": signed,
    }
    try:
        return _post(row.webhook.url, body, headers), ""
    except Invalid as why:
        return None, str(why)
    except httpx.TimeoutException:
        return None, "It did not answer in time."
    except (httpx.HTTPError, httpx.InvalidURL) as error:
        return None, f"It could not be reached: {type(error).__name__}."


def _post(url: str, body: bytes, headers: dict[str, str]) -> int:
    parts = urlsplit(url)
    host = parts.hostname or ""
    port = parts.port or (443 if parts.scheme == "https" else 80)
    address = resolve(host, port)
    at = httpx.URL(url).copy_with(host=address)
    named: dict[str, Any] = {"sni_hostname": host} if parts.scheme == "https" else {}
    # trust_env: a proxy of the environment would look the name up again.
    with (
        httpx.Client(timeout=TIMEOUT, follow_redirects=False, trust_env=False) as client,
        client.stream(
            "POST", at, content=body, headers={**headers, "Host": parts.netloc}, extensions=named
        ) as answer,
    ):
        for read, _ in enumerate(answer.iter_raw(1024)):
            if read * 1024 > MOST_READ:
                break  # nobody needs to read a film to know the status
        return answer.status_code


def signature(*, secret: str, moment: datetime, body: bytes) -> str:
    """By which a receiver knows that it was us, and that it was now.

    ``t=<seconds since 1970>,v1=<hex>``: HMAC-SHA256 (RFC 2104) over ``<t>.<body>``. The time is
    signed too, so that a copy cannot be sent again later."""
    stamp = str(int(moment.timestamp()))
    digest = hmac.new(secret.encode(), stamp.encode() + b"." + body, "sha256").hexdigest()
    return f"t={stamp},v1={digest}"
