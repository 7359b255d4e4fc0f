"""Taking mails from the outbox to the mail server.

At least once: a mail that went out in the moment before its row was removed goes out again. One
thread of a process does it, so that a server that does not answer holds up one thread and not the
queue; and while the server cannot be reached at all, no mail has used up a try.
"""

import logging
import threading
from collections.abc import Callable
from datetime import timedelta
from smtplib import SMTPException, SMTPServerDisconnected

from allauth.account.forms import default_token_generator
from allauth.account.internal.flows.password_reset import request_password_reset
from allauth.account.internal.userkit import filter_users_by_email
from django.core.mail import EmailMessage, get_connection
from django.core.mail.backends.base import BaseEmailBackend
from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone

from athletes.mail.models import PASSWORD_RESET, TEXT, Mail

log = logging.getLogger(__name__)
Write = Callable[[Mail], EmailMessage | None]

LEASE = timedelta(minutes=2)
AWAY = timedelta(seconds=30)  # until a server that could not be reached is tried again
LONGEST_WAIT = timedelta(hours=6)
AT_ONCE = 50  # a task is short; the sweep goes on
KEPT = timedelta(days=30)  # how long an owner can see that one was given up
_writers: dict[str, Write] = {}
_turn = threading.Lock()


def writes(kind: str) -> Callable[[Write], Write]:
    """Registers who writes the mails of a kind; None from there means that none is to be sent."""

    def register(write: Write) -> Write:
        _writers[kind] = write
        return write

    return register


@writes(TEXT)
def _text(mail: Mail) -> EmailMessage:
    return EmailMessage(mail.subject, mail.body, None, [mail.to])


@writes(PASSWORD_RESET)
def _password_reset(mail: Mail) -> None:
    """Looks up whose address it is. allauth's adapter puts the mail with the link into the outbox,
    in this transaction, for them or for nobody."""
    users = filter_users_by_email(mail.to, is_active=True, prefer_verified=True, for_login=True)
    request_password_reset(HttpRequest(), mail.to, users, default_token_generator)


def deliver_due() -> None:
    """Send what is due, until nothing is or the mail server is in trouble. Returns at once when
    another thread of this process is at it; that one looks again before it stops."""
    _expire()
    while Mail.objects.due().exists():
        if not _turn.acquire(blocking=False):
            return
        try:
            if not _deliver_some():
                return
        finally:
            _turn.release()


def _expire() -> None:
    """What nobody could send in time is emptied, and stands there for the owner."""
    now = timezone.now()
    late = Mail.objects.filter(due_at__isnull=False, expires_at__lte=now)
    if late.update(due_at=None, to="", subject="", body=""):
        log.error("Mail was given up: the mail server took it too late or not at all.")
    Mail.objects.filter(due_at=None, made_at__lt=now - KEPT).delete()


def _deliver_some() -> bool:
    """False when it is better to stop for now."""
    connection = get_connection()
    try:
        connection.open()
    except (SMTPException, OSError) as error:
        problem = type(error).__name__
        log.warning("The mail server cannot be reached: %s", problem)
        Mail.objects.due().update(due_at=timezone.now() + AWAY, problem=problem)
        return False
    try:
        keys = list(
            Mail.objects.due().order_by("due_at", "pk").values_list("pk", flat=True)[:AT_ONCE]
        )
        return all(_deliver(pk, connection) for pk in keys) and len(keys) < AT_ONCE
    finally:
        connection.close()


def _deliver(pk: int, connection: BaseEmailBackend) -> bool:
    """Send one, if it is still due; False when the connection is no good any more."""
    row = Mail.objects.lease(pk, LEASE)
    if row is None:
        return True  # another worker has it
    with transaction.atomic():
        message = _writers[row.kind](row)
        if message is None:
            row.delete()
            return True
    try:
        connection.send_messages([message])
    except (SMTPException, OSError) as error:
        _put_off(row, error)
        # Only an answer shows that the server is still there.
        return isinstance(error, SMTPException) and not isinstance(error, SMTPServerDisconnected)
    row.delete()
    return True


def _put_off(row: Mail, error: Exception) -> None:
    wait = min(LONGEST_WAIT, timedelta(minutes=2**row.attempts))
    problem = type(error).__name__
    Mail.objects.filter(pk=row.pk).update(due_at=timezone.now() + wait, problem=problem)
    log.warning("%s put off for %s: %s", row, wait, problem)
