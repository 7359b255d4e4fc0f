"""Putting a mail into the outbox, and knowing whether the outbox is emptied."""

from datetime import datetime, timedelta

from django.conf import settings
from django.db.models import QuerySet
from django.utils import timezone

from athletes.mail.models import PASSWORD_RESET, TEXT, Mail
from coachdesk.common.after_commit import send_after_commit

TASK = "athletes.mail.tasks.deliver_mail"
LIFETIME = timedelta(days=3)  # a mail server that was away for a weekend still gets it all
LONGEST_SUBJECT = 255
# Backends that keep mail on this machine: nobody receives it.
KEPT_HERE = ("filebased", "console", "dummy")


def enqueue_text(*, to: str, subject: str, body: str, expires_at: datetime | None = None) -> Mail:
    """A mail as it will be read, on its way once the transaction has committed."""
    text = {"to": to, "subject": subject[:LONGEST_SUBJECT], "body": body}
    return _enqueue(Mail(kind=TEXT, **text), expires_at)


def enqueue_about(kind: str, pk: int, *, due_at: datetime | None = None) -> Mail:
    """A mail that is written from the row `pk` when it is sent, now or at `due_at`."""
    return _enqueue(Mail(kind=kind, about=pk, due_at=due_at or timezone.now()), None)


def waiting_about(kind: str) -> QuerySet[Mail, int | None]:
    """The rows of a kind whose mail has not gone out."""
    return Mail.objects.filter(kind=kind).values_list("about", flat=True)


def enqueue_password_reset(to: str) -> Mail:
    """The same row whether or not anybody has this address: nobody is looked up before a worker
    has it, so neither the page nor its time tells."""
    return _enqueue(Mail(kind=PASSWORD_RESET, to=to), None)


def _enqueue(mail: Mail, expires_at: datetime | None) -> Mail:
    latest = timezone.now() + LIFETIME
    mail.expires_at = min(expires_at or latest, latest)
    mail.save()
    send_after_commit(TASK)
    return mail


def leaves_this_machine() -> bool:
    return not any(kept in settings.EMAIL_BACKEND for kept in KEPT_HERE)


def stuck_mails() -> QuerySet[Mail]:
    """Mails that were tried and wait to be tried again: the mail server is in trouble."""
    return Mail.objects.filter(due_at__isnull=False).exclude(problem="")


def mail_is_stuck() -> bool:
    return stuck_mails().exists()
