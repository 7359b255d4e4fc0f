"""The outbox: a row first, a worker after; a mail server in trouble stops and loses nothing."""

import re
import threading
from collections import Counter
from datetime import timedelta

import pytest
from django.core import mail
from django.db import connection
from django.template import base
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from athletes.mail import deliver_mail
from athletes.mail.deliver_mail import deliver_due
from athletes.mail.models import Mail
from athletes.mail.services import LIFETIME, enqueue_text
from tests.conftest import Cast, mails
from tests.faults.ground import free_port
from tests.smtp import mail_server, silent_server

pytestmark = pytest.mark.django_db


@pytest.fixture
def smtp(settings):
    """Mail goes to a port of this machine, and half a second is long enough to wait for it."""
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    settings.EMAIL_HOST, settings.EMAIL_TIMEOUT = "127.0.0.1", 0.5
    return settings


def enqueue(to: str = "mira@example.org", body: str = "A link.") -> Mail:
    return enqueue_text(to=to, subject="Coachdesk", body=body)


def due_again() -> None:
    Mail.objects.update(due_at=timezone.now())


def reset_password(email: str) -> str:
    answer = Client().post("/accounts/password/reset/", {"email": email}, follow=True)
    return re.sub(r'(value|content)="[^"]*"', "", answer.content.decode())


@pytest.mark.parametrize("trouble", ["silent", "refusing"])
def test_a_mail_server_in_trouble_stops_no_page_and_the_mail_goes_once_it_is_well(
    cast: Cast, smtp, trouble: str
) -> None:
    with silent_server() as silent:
        smtp.EMAIL_PORT = silent if trouble == "silent" else free_port()
        assert "Look in your mail" in reset_password(cast.athlete.email)
        row = Mail.objects.get()
        assert (row.to, row.attempts) == (cast.athlete.email, 0), "no page talks to a mail server"
        deliver_due()
        row.refresh_from_db()
        assert row.due_at > timezone.now()
        assert row.problem
    with mail_server() as server:
        smtp.EMAIL_PORT = server.port
        due_again()
        deliver_due()
        deliver_due()
    assert [it["To"] for it in server.taken] == [cast.athlete.email]
    assert not Mail.objects.exists(), "what opens a door is not kept once it is sent"


def test_every_wait_for_a_mail_server_has_an_end(settings) -> None:
    connection = mail.get_connection("django.core.mail.backends.smtp.EmailBackend")
    assert connection.timeout == settings.EMAIL_TIMEOUT == 10


def test_a_server_that_takes_a_mail_and_does_not_say_so_gets_it_again_later(smtp) -> None:
    """At least once: nobody can know whether it was read to its end."""
    enqueue()
    with mail_server() as server:
        smtp.EMAIL_PORT = server.port
        server.may_answer.clear()
        deliver_due()
        row = Mail.objects.get()
        assert (row.attempts, row.due_at > timezone.now()) == (1, True)
        server.may_answer.set()
        due_again()
        deliver_due()
        assert len(server.taken) == 2
    assert not Mail.objects.exists()


def test_one_address_that_is_refused_holds_up_no_other(smtp) -> None:
    enqueue("nobody@example.org")
    enqueue("mira@example.org")
    with mail_server() as server:
        smtp.EMAIL_PORT = server.port
        server.refused.append(b"nobody")
        deliver_due()
    assert [it["To"] for it in server.taken] == ["mira@example.org"]
    assert [row.to for row in Mail.objects.all()] == ["nobody@example.org"]


def test_while_one_thread_waits_for_the_server_no_other_does(smtp, monkeypatch) -> None:
    """Or a server that is silent would hold every thread of the quick worker."""
    enqueue()
    assert deliver_mail._turn.acquire(blocking=False)
    try:
        returned = threading.Event()
        monkeypatch.setattr(
            deliver_mail, "_deliver_some", lambda: pytest.fail("a second one waits")
        )
        deliver_due()
        returned.set()
    finally:
        deliver_mail._turn.release()
    assert returned.is_set()


def test_a_worker_that_died_while_sending_is_followed_by_another(monkeypatch) -> None:
    enqueue()
    with monkeypatch.context() as patched:
        patched.setitem(deliver_mail._writers, "text", lambda row: 1 / 0)
        with pytest.raises(ZeroDivisionError):
            deliver_due()
    assert mails() == [], "the lease of the dead one still holds"
    due_again()
    assert len(mails()) == 1


def test_what_nobody_took_in_three_days_is_emptied_and_stands_there_as_given_up(settings) -> None:
    row = enqueue(body="https://club.example/join/secret/")
    Mail.objects.filter(pk=row.pk).update(expires_at=timezone.now())
    assert mails() == []
    row.refresh_from_db()
    assert (row.due_at, row.to, row.subject, row.body) == (None, "", "", "")
    Mail.objects.update(made_at=timezone.now() - timedelta(days=31))
    assert mails() == []
    assert not Mail.objects.exists()


def test_a_mail_is_never_kept_longer_than_what_it_opens() -> None:
    soon = timezone.now() + timedelta(hours=1)
    assert enqueue_text(to="a@example.org", subject="", body="", expires_at=soon).expires_at == soon
    late = timezone.now() + 2 * LIFETIME
    assert enqueue_text(to="a@example.org", subject="", body="", expires_at=late).expires_at < late


def test_the_page_for_a_forgotten_password_does_the_same_for_an_unknown_address(
    cast: Cast, monkeypatch
) -> None:
    """By content, and by time: the same statements and the same templates, whoever is asked for.
    What differs, the look-up and the mail, a worker does."""
    rendered: Counter[str] = Counter()
    render = base.Template.render

    def counted(self, context):
        rendered[str(self.name)] += 1
        return render(self, context)

    monkeypatch.setattr(base.Template, "render", counted)

    def traces(email: str) -> tuple[str, list[str], Counter[str]]:
        rendered.clear()
        with CaptureQueriesContext(connection) as asked:
            page = reset_password(email)
        statements = [re.sub(r"'[^']*'|\d+", "?", query["sql"]) for query in asked]
        return page, statements, rendered.copy()

    known, unknown = traces(cast.athlete.email), traces("nobody@example.org")
    assert known == unknown
    assert [it.to for it in mails()] == [[cast.athlete.email]]
    assert not Mail.objects.exists()


def test_no_mail_of_the_project_is_sent_but_by_the_outbox(cast: Cast, client: Client, smtp) -> None:
    """allauth's notices too: a page that changes a password waits for no mail server."""
    with silent_server() as smtp.EMAIL_PORT:
        client.force_login(cast.athlete)
        fresh = "fresh chalk and iron"
        facts = {"oldpassword": "a long passphrase", "password1": fresh, "password2": fresh}
        client.post("/accounts/password/change/", facts)
        (row,) = Mail.objects.all()
    assert (row.to, row.attempts) == (cast.athlete.email, 0)
    assert "Coachdesk, localhost:8000" in row.body
