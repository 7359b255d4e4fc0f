"""Webhooks: signed, patient, and never turned against the machines behind our own wall."""

import hmac
import json
import re
import socket
import threading
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, HTTPServer
from ipaddress import ip_address

import pytest
from django.core.exceptions import PermissionDenied
from django.db import connection
from django.test import Client
from django.utils import timezone

from athletes.webhooks import public_addresses
from athletes.webhooks.deliver_webhook import WAITS, deliver, signature
from athletes.webhooks.models import Delivery, Event, Webhook
from athletes.webhooks.public_addresses import is_public, resolve
from athletes.webhooks.services import (
    InvalidWebhook,
    add_webhook,
    address_problem,
    emit,
    end_webhook,
)
from athletes.webhooks.tasks import sweep_deliveries
from coachdesk.common.errors import Invalid
from tests.conftest import Cast


class Receiver(HTTPServer):
    """A real server on this machine that answers what it is told to, in turn."""

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Handler)
        self.answers: list[int] = []
        self.heard: list[tuple[dict[str, str], bytes]] = []

    @property
    def url(self) -> str:
        return f"http://127.0.0.1:{self.server_port}/hook?a=1"


class Handler(BaseHTTPRequestHandler):
    server: Receiver

    def do_POST(self) -> None:
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.server.heard.append((dict(self.headers), body))
        self.send_response(self.server.answers.pop(0))
        self.send_header("Location", "/elsewhere")
        self.end_headers()

    def log_message(self, *args: object) -> None:
        """Quiet."""


@pytest.fixture
def receiver(settings) -> Iterator[Receiver]:
    settings.WEBHOOKS_MAY_STAY_INSIDE = True
    server = Receiver()
    thread = threading.Thread(target=server.serve_forever, kwargs={"poll_interval": 0.05})
    thread.start()
    yield server
    server.shutdown()
    thread.join(10)
    server.server_close()


def told(cast: Cast, url: str) -> Delivery:
    add_webhook(by=cast.owner, url=url, events=[Event.REPLY_PUBLISHED], address_problem="")
    emit(club_id=cast.owner.club_id, event=Event.REPLY_PUBLISHED, submission="s1")
    emit(club_id=cast.owner.club_id, event=Event.SUBMISSION_SENT, submission="not asked for")
    emit(club_id=cast.stranger.club_id, event=Event.REPLY_PUBLISHED, submission="another club")
    return Delivery.objects.get()


def test_two_failures_and_then_it_is_taken(cast: Cast, receiver: Receiver) -> None:
    row = told(cast, receiver.url)
    receiver.answers = [500, 302, 204]  # a redirect is not followed: it is no taking either
    for attempt in (1, 2):
        before = timezone.now()
        assert not deliver(row.pk)
        row.refresh_from_db()
        assert row.attempts == attempt
        assert row.due_at is not None
        assert row.due_at - before >= WAITS[attempt - 1]
        assert not deliver(row.pk), "before it is due nothing is sent"
        Delivery.objects.update(due_at=timezone.now())
    sweep_deliveries()
    row.refresh_from_db()
    assert (row.status, row.due_at, row.attempts) == (204, None, 3)
    assert row.taken_at is not None
    assert len(receiver.heard) == 3
    assert len({json.loads(body)["id"] for _, body in receiver.heard}) == 1


def test_the_receiver_can_check_who_it_was(cast: Cast, receiver: Receiver) -> None:
    row = told(cast, receiver.url)
    receiver.answers = [200]
    assert deliver(row.pk)
    headers, body = receiver.heard[0]
    stamp, said = (part.split("=")[1] for part in headers["Coachdesk-Signature"].split(","))
    secret = Webhook.objects.get().secret
    computed = hmac.digest(secret.encode(), f"{stamp}.".encode() + body, "sha256").hex()
    assert said == computed
    assert headers["Host"] == f"127.0.0.1:{receiver.server_port}"
    assert json.loads(body)["submission"] == "s1"


def test_the_signature_is_hmac_sha256() -> None:
    """RFC 4231 test case 2: HMAC-SHA256 of "what do ya want for nothing?" under "Jefe"; the time
    and the dot stand before the body here, so the primitive is what is compared."""
    known = "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843"
    assert hmac.new(b"Jefe", b"what do ya want for nothing?", "sha256").hexdigest() == known
    moment = datetime(2026, 1, 1, tzinfo=UTC)
    made = signature(secret="Jefe", moment=moment, body=b"{}")
    expected = hmac.new(b"Jefe", b"1767225600.{}", "sha256").hexdigest()
    assert made == f"t=1767225600,v1={expected}"


def test_it_gives_up_in_the_end(cast: Cast, receiver: Receiver) -> None:
    row = told(cast, receiver.url)
    receiver.answers = [503] * (len(WAITS) + 1)
    for _ in range(len(WAITS) + 1):
        Delivery.objects.update(due_at=timezone.now())
        deliver(row.pk)
    row.refresh_from_db()
    assert row.given_up
    assert sum(WAITS, timedelta()) > timedelta(hours=12), "a night"


def test_what_was_ended_is_told_nothing(cast: Cast, receiver: Receiver) -> None:
    row = told(cast, receiver.url)
    assert end_webhook(by=cast.owner, webhook_id=row.webhook_id)
    assert not deliver(row.pk)
    assert not receiver.heard


@pytest.mark.parametrize(
    "address",
    [
        "127.0.0.1", "10.1.2.3", "172.16.0.1", "192.168.1.1", "169.254.169.254", "0.0.0.0",
        "100.64.0.1", "224.0.0.1", "::1", "fe80::1", "fd00::1", "::ffff:127.0.0.1",
        "64:ff9b::a00:1", "2002:7f00:1::", "ff02::1",
        "64:ff9b:1::1", "64:ff9b:1:ffff::808:808", "::808:808", "::ffff:0:808:808", "fec0::1",
    ],
)  # fmt: skip
def test_private_addresses_are_out_of_reach(address: str) -> None:
    """IANA IPv4 and IPv6 special-purpose address registries; RFC 6890, RFC 6052, RFC 8215 (NAT64 of
    a local network), RFC 4291 (IPv4-compatible), RFC 2765 (IPv4-translated), RFC 3879 (site-local).
    """
    assert not is_public(ip_address(address))


@pytest.mark.parametrize("address", ["1.1.1.1", "2606:4700:4700::1111", "::ffff:1.1.1.1"])
def test_public_addresses_are_within_reach(address: str) -> None:
    assert is_public(ip_address(address))


def test_one_private_address_among_public_ones_is_enough(monkeypatch) -> None:
    answers = [(2, 1, 6, "", ("1.1.1.1", 443)), (2, 1, 6, "", ("10.0.0.1", 443))]
    monkeypatch.setattr(socket, "getaddrinfo", lambda *a, **k: answers)
    with pytest.raises(Invalid):
        resolve("two.example", 443)


def test_a_name_that_turned_private_is_not_called(cast: Cast, receiver, settings) -> None:
    row = told(cast, receiver.url)
    settings.WEBHOOKS_MAY_STAY_INSIDE = False
    assert not deliver(row.pk)
    row.refresh_from_db()
    assert "private network" in row.problem
    assert not receiver.heard


def test_the_name_is_looked_up_once(cast: Cast, receiver: Receiver, monkeypatch) -> None:
    """What was checked is what is called: the name itself leads nowhere."""
    row = told(cast, receiver.url)
    named = f"http://club.invalid:{receiver.server_port}/hook"
    Webhook.objects.update(url=named)
    monkeypatch.setattr("athletes.webhooks.deliver_webhook.resolve", lambda host, port: "127.0.0.1")
    receiver.answers = [200]
    assert deliver(row.pk)
    assert receiver.heard[0][0]["Host"] == f"club.invalid:{receiver.server_port}"


@pytest.mark.parametrize(
    "url",
    ["ftp://example.org/", "https://", "http://127.0.0.1/", "https://me:pw@example.org/",
     "https://example.org:99999/", "http://localhost/", "http://[::1]/"],
)  # fmt: skip
def test_wrong_addresses_are_not_added(cast: Cast, url: str) -> None:
    problem = address_problem(url)
    assert problem
    with pytest.raises(InvalidWebhook, match=re.escape(problem)):
        add_webhook(by=cast.owner, url=url, events=[Event.REPLY_PUBLISHED], address_problem=problem)
    assert not Webhook.objects.exists()


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("headers", [{}, {"Idempotency-Key": "k-1"}])
def test_no_transaction_waits_for_the_name(
    cast: Cast, client: Client, monkeypatch, headers: dict[str, str]
) -> None:
    """SQLite has one writer: a slow name server would stop everybody else."""
    waiting: list[bool] = []

    def resolve(host: str, port: int) -> str:
        waiting.append(connection.in_atomic_block)
        return "1.1.1.1"

    monkeypatch.setattr("athletes.webhooks.services.resolve", resolve)
    client.force_login(cast.owner)
    body = {"url": "https://example.org/hook", "events": ["reply.published"]}
    for _ in range(2):
        client.post("/api/v1/webhooks/", body, "application/json", headers=headers)
    assert waiting == [False] * (1 if headers else 2)
    assert Webhook.objects.count() == (1 if headers else 2)


def test_only_owners_add(cast: Cast) -> None:
    with pytest.raises(PermissionDenied):
        add_webhook(
            by=cast.coach,
            url="https://example.org/",
            events=["reply.published"],
            address_problem="",
        )
    assert public_addresses.settings.WEBHOOKS_MAY_STAY_INSIDE is False
