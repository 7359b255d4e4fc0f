"""Kill -9 of the worker that is handing a mail over."""

from collections import Counter

import pytest
from django.utils import timezone

from athletes.mail.models import Mail
from athletes.mail.services import enqueue_text
from coachdesk.common import after_commit
from tests.faults.ground import Ground, until
from tests.smtp import mail_server

pytestmark = pytest.mark.kills
PEOPLE = ["a@example.org", "b@example.org", "c@example.org"]


def look_now() -> None:
    after_commit.current_app.send_task("athletes.mail.tasks.deliver_mail", ignore_result=True)


def test_killed_while_sending_each_mail_arrives_and_one_at_most_twice(ground: Ground) -> None:
    with mail_server() as server:
        ground._environment["COACHDESK_EMAIL_URL"] = f"smtp://127.0.0.1:{server.port}"
        ground.broker()
        for to in PEOPLE:
            enqueue_text(to=to, subject="Coachdesk", body="A link.")
        server.may_answer.clear()
        first = ground.worker("-P", "threads", "-c", "2")
        look_now()
        assert server.arrived.wait(120), "a mail is being handed over"
        ground.kill(first)
        assert Mail.objects.count() == 3
        server.may_answer.set()
        Mail.objects.update(due_at=timezone.now())  # once the lease of the dead one has run out
        ground.worker("-P", "threads", "-c", "2")
        look_now()
        until(lambda: not Mail.objects.exists(), 120, "every mail is sent")
        assert Counter(it["To"] for it in server.taken) == Counter([*PEOPLE, PEOPLE[0]])
