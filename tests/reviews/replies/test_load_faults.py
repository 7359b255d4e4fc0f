"""Faults stand on the load's time axis, on the athlete's own date of the reply that told them."""

from datetime import UTC, datetime

import pytest
import time_machine
from django.urls import reverse

from reviews.replies.services.publish_reply import publish_reply
from tests.conftest import Cast
from tests.reviews.replies.test_athlete_faults import told

pytestmark = pytest.mark.django_db


def test_each_fault_is_marked_once_on_the_athletes_date(cast: Cast, client) -> None:
    cast.athlete.timezone = "Pacific/Auckland"
    cast.athlete.save()
    # Half past one in the afternoon of the 9th in London is the 10th in Auckland.
    with time_machine.travel(datetime(2026, 11, 9, 13, 30, tzinfo=UTC)):
        first = told(cast, "Hips rise first", "Short of depth")
    publish_reply(coach=cast.coach, submission_id=first.reply.submission_id)
    address = reverse("load-faults", args=[cast.athlete.pk])
    client.force_login(cast.athlete)
    page = client.get(address, {"from": "2026-11-10"}).content.decode()
    assert page.count("Hips rise first") == page.count("Short of depth") == 1
    midnight = int(datetime(2026, 11, 10, tzinfo=UTC).timestamp())
    assert page.count(f'data-event="{midnight}"') == 2
    client.force_login(cast.other_athlete)
    assert client.get(address, {"from": "2026-11-10"}).status_code == 404
    client.force_login(cast.coach)
    assert client.get(address, {"from": "last week"}).status_code == 404
