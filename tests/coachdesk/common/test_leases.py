"""A row has one holder at a time, whoever asks at the same moment."""

import threading
from datetime import timedelta

import pytest
from django.db import connection
from django.utils import timezone

from athletes.mail.models import TEXT, Mail
from athletes.webhooks import deliver_webhook
from athletes.webhooks.models import Delivery, Event, Webhook
from coachdesk.common.leases import LeasedRow
from tests.conftest import Cast

MINUTE = timedelta(minutes=1)


def mail() -> Mail:
    return Mail.objects.create(kind=TEXT, to="a@example.org", expires_at=timezone.now() + MINUTE)


def delivery(cast: Cast) -> Delivery:
    hook = Webhook.objects.create(club=cast.owner.club, url="https://a.example", secret="s")
    return Delivery.objects.create(webhook=hook, event=Event.SUBMISSION_SENT, payload={})


@pytest.mark.django_db
def test_a_lease_runs_out_and_counts_each_attempt() -> None:
    row = mail()
    first = Mail.objects.lease(row.pk, MINUTE)
    assert first is not None
    assert (first.attempts, first.is_due) == (1, False)
    assert Mail.objects.lease(row.pk, MINUTE) is None
    Mail.objects.update(due_at=timezone.now() - MINUTE)
    assert Mail.objects.due().get() == row
    again = Mail.objects.lease(row.pk, MINUTE)
    assert again is not None
    assert again.attempts == 2


@pytest.mark.django_db
def test_what_is_over_is_never_due() -> None:
    row = mail()
    Mail.objects.update(due_at=None)
    assert not Mail.objects.due().exists()
    assert Mail.objects.lease(row.pk, MINUTE) is None


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("kind", ["mail", "delivery"])
def test_eight_at_once_and_one_has_it(cast: Cast, kind: str) -> None:
    row: LeasedRow = mail() if kind == "mail" else delivery(cast)
    rows = Mail.objects.all() if kind == "mail" else deliver_webhook.open_deliveries()
    start = threading.Barrier(8)
    taken: list[LeasedRow] = []

    def take() -> None:
        start.wait(10)
        try:
            if held := rows.all().lease(row.pk, MINUTE):
                taken.append(held)
        finally:
            connection.close()

    threads = [threading.Thread(target=take) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(30)
    assert [held.attempts for held in taken] == [1]
