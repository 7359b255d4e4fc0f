"""Telling people by e-mail what already stands in the database.

At least once: a mail that went out in the moment before its row was marked goes out again. A mail
server that is away costs nothing but time: each try is put off for longer, until GIVE_UP.
"""

import logging
from collections.abc import Callable
from datetime import date, timedelta
from smtplib import SMTPException

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.db.models import F, QuerySet
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone, translation
from django.utils.timezone import override

from athletes.local import zone_of
from athletes.models import Role, User
from athletes.permissions import coaches_of
from reviews.intake.models import AngleRequest, Submission
from reviews.replies.changes import programme_changes, sent_changes
from reviews.replies.models import (
    CorrectionReason,
    Message,
    NoticeEvent,
    ProgrammeNotice,
    ReplyVersion,
)
from reviews.replies.outcome_words import outcome_sentences

log = logging.getLogger(__name__)
LEASE = timedelta(minutes=2)
LONGEST_WAIT = timedelta(hours=6)
GIVE_UP = 20  # tries: about three days
MAIL_SECONDS = 20  # a server that hangs must not hold a worker for ever


def send_reply_mail(version_id: int) -> bool:
    """Mail one version to its athlete. False when another worker has it, or it went out already."""
    versions = ReplyVersion.objects.filter(pk=version_id)
    return _send(versions, _reply_mail)


def send_message_mail(message_id: int) -> bool:
    """Mail one message to the other side. False as for `send_reply_mail`."""
    return _send(Message.objects.filter(pk=message_id), _message_mail)


def send_angle_mail(request_id: int) -> bool:
    """Mail the athlete what else to film. False as for `send_reply_mail`."""
    return _send(AngleRequest.objects.filter(pk=request_id), _angle_mail)


def send_notice_mail(notice_id: int) -> bool:
    """Mail the athlete what changed after their reply. False as for `send_reply_mail`."""
    return _send(ProgrammeNotice.objects.filter(pk=notice_id), _notice_mail)


def due(rows: QuerySet) -> QuerySet:
    """The mails that somebody should send now."""
    now = timezone.now()
    return rows.filter(mailed_at=None, mail_due_at__lte=now, mail_tries__lt=GIVE_UP)


def _send(rows: QuerySet, write: Callable) -> bool:
    now = timezone.now()
    if not due(rows).update(mail_due_at=now + LEASE, mail_tries=F("mail_tries") + 1):
        return False
    row = rows.get()
    mail = write(row)
    if mail is None:
        return bool(rows.update(mailed_at=now))
    try:
        mail.send()
    except (SMTPException, OSError) as error:
        wait = min(LONGEST_WAIT, timedelta(minutes=2**row.mail_tries))
        rows.update(mail_due_at=timezone.now() + wait)
        log.warning("Mail of %s %s put off for %s: %s", type(row).__name__, row.pk, wait, error)
        return False
    return bool(rows.update(mailed_at=timezone.now()))


def _reply_mail(version: ReplyVersion) -> EmailMessage | None:
    submission = version.reply.submission
    athlete = submission.athlete
    by = version.content["film_again"]["by"]
    context = {
        "content": version.content,
        "changes": sent_changes(version.content),
        "outcomes": outcome_sentences(version.content),
        "version": version,
        "submission": submission,
        "film_by": date.fromisoformat(by) if by else None,
    }
    subject = "reply_updated_subject" if version.number > 1 else "reply_subject"
    return _mail(athlete, subject, "reply", context)


def _message_mail(message: Message) -> EmailMessage | None:
    submission = message.submission
    to = _coach_of(submission) if message.author_id == submission.athlete_id else submission.athlete
    if to is None:
        log.warning("Message %s has nobody to be mailed to: no coach answers here.", message.pk)
        return None
    context = {"message": message, "submission": submission}
    return _mail(to, "message_subject", "message", context)


def _angle_mail(asked: AngleRequest) -> EmailMessage | None:
    if asked.settled_at:
        return None  # taken back before the mail went out
    submission = asked.submission
    return _mail(
        submission.athlete, "angle_subject", "angle", {"asked": asked, "submission": submission}
    )


def _notice_mail(notice: ProgrammeNotice) -> EmailMessage | None:
    reason, athlete = notice.reason, notice.reason.submission.athlete
    if notice.read_at or (notice.event == NoticeEvent.APPLIED and not reason.correction.is_running):
        return None  # read on the site meanwhile, or it holds no more
    only = CorrectionReason.objects.filter(pk=reason.pk).select_related("correction__made_by")
    (change,) = programme_changes(only, athlete=athlete, unit=athlete.unit)
    context = {"notice": notice, "change": change, "submission": reason.submission}
    return _mail(athlete, "notice_subject", "notice", context)


def _coach_of(submission: Submission) -> User | None:
    """Who answered last, or else the athlete's main coach, or else an owner: of those who still
    coach here, so that no question goes to somebody who is gone."""
    here = coaches_of(submission.club)
    last = ReplyVersion.objects.filter(reply__submission=submission).first()
    for pk in (last.sent_by_id if last else None, submission.athlete.main_coach_id):
        found = here.filter(pk=pk).first() if pk else None
        if found:
            return found
    return here.filter(role=Role.OWNER).order_by("pk").first()


def _mail(to: User, subject: str, body: str, context: dict) -> EmailMessage:
    link = settings.PUBLIC_URL.rstrip("/") + reverse("submission", args=[context["submission"].pk])
    context = {**context, "to": to, "link": link}
    with translation.override(settings.LANGUAGE_CODE), override(zone_of(to)):
        line = " ".join(render_to_string(f"reviews/replies/mail/{subject}.txt", context).split())
        text = render_to_string(f"reviews/replies/mail/{body}.txt", context)
    connection = get_connection(timeout=MAIL_SECONDS)
    return EmailMessage(line, text.strip() + "\n", None, [to.email], connection=connection)
