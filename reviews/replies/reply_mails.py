"""What the mails about replies say. The outbox sends them (athletes/mail), written when they go."""

import logging
from collections.abc import Callable
from datetime import date
from typing import Any

from django.conf import settings
from django.core.mail import EmailMessage
from django.db.models import Model
from django.template.loader import render_to_string
from django.utils import translation
from django.utils.timezone import override

from athletes.local_time import zone_of
from athletes.mail.deliver_mail import writes
from athletes.mail.models import Mail
from athletes.models import Role, User
from athletes.permissions import coaches_of
from coachdesk.common.public_url import absolute_url
from reviews.intake.models import AngleRequest, Submission
from reviews.replies.models import (
    CorrectionReason,
    Message,
    NoticeEvent,
    ProgrammeNotice,
    ReplyVersion,
)
from reviews.replies.outcome_sentences import outcome_sentences
from reviews.replies.selectors.programme_changes import programme_changes

log = logging.getLogger(__name__)

REPLY, MESSAGE, ANGLE, NOTICE = "reply", "message", "angle", "notice"


def _of(row: Model | None, write: Callable[[Any], EmailMessage | None]) -> EmailMessage | None:
    """None where the row is gone since: whoever it was about was erased."""
    return write(row) if row else None


@writes(REPLY)
def _of_reply(mail: Mail) -> EmailMessage | None:
    return _of(ReplyVersion.objects.filter(pk=mail.about or 0).first(), _reply_mail)


@writes(MESSAGE)
def _of_message(mail: Mail) -> EmailMessage | None:
    return _of(Message.objects.filter(pk=mail.about or 0).first(), _message_mail)


@writes(ANGLE)
def _of_angle(mail: Mail) -> EmailMessage | None:
    return _of(AngleRequest.objects.filter(pk=mail.about or 0).first(), _angle_mail)


@writes(NOTICE)
def _of_notice(mail: Mail) -> EmailMessage | None:
    return _of(ProgrammeNotice.objects.filter(pk=mail.about or 0).first(), _notice_mail)


def _reply_mail(version: ReplyVersion) -> EmailMessage | None:
    submission = version.reply.submission
    athlete = submission.athlete
    by = version.content["film_again"]["by"]
    context = {
        "content": version.content,
        "changes": _sent_changes(version.content),
        "outcomes": outcome_sentences(version.content),
        "version": version,
        "submission": submission,
        "film_by": date.fromisoformat(by) if by else None,
    }
    subject = "reply_updated_subject" if version.number > 1 else "reply_subject"
    return _mail(athlete, subject, "reply", context)


def _sent_changes(content: dict[str, Any]) -> list[dict[str, Any]]:
    """The changes that a version holds, with their days as dates."""
    return [
        {
            **change,
            "check_back_on": _day(change["check_back_on"]),
            "sessions": [{**one, "day": _day(one["day"])} for one in change["sessions"]],
        }
        for change in content["changes"]
    ]


def _day(iso: str | None) -> date | None:
    return date.fromisoformat(iso) if iso else None


def _message_mail(message: Message) -> EmailMessage | None:
    submission = message.submission
    to = _coach_of(submission) if message.author_id == submission.athlete_id else submission.athlete
    if to is None:
        log.warning("Message %s has nobody to be mailed to: no coach answers here.", message.pk)
        return None
    context = {"message": message, "submission": submission}
    return _mail(to, "message_subject", "message", context)


def _angle_mail(angle: AngleRequest) -> EmailMessage | None:
    if angle.settled_at:
        return None  # taken back before the mail went out
    submission = angle.submission
    return _mail(
        submission.athlete, "angle_subject", "angle", {"asked": angle, "submission": submission}
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
    link = absolute_url("submission", pk=context["submission"].pk)
    context = {**context, "to": to, "link": link}
    with translation.override(settings.LANGUAGE_CODE), override(zone_of(to)):
        line = " ".join(render_to_string(f"reviews/replies/mail/{subject}.txt", context).split())
        text = render_to_string(f"reviews/replies/mail/{body}.txt", context)
    return EmailMessage(line, text.strip() + "\n", None, [to.email])
