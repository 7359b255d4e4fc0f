"""Celery's way in. Rows are the truth; a lost message is found by the sweep."""

import logging

from celery import Task, shared_task
from django.db import transaction
from kombu.exceptions import OperationalError
from redis.exceptions import RedisError

from reviews.intake.models import AngleRequest
from reviews.replies.mailing import (
    due,
    send_angle_mail,
    send_message_mail,
    send_notice_mail,
    send_reply_mail,
)
from reviews.replies.models import Message, ProgrammeNotice, ReplyVersion

log = logging.getLogger(__name__)
AT_ONCE = 50  # a sweep is short; the next one goes on


def once_certain(task: Task, row_id: int) -> None:
    """Enqueue when the transaction has committed. A broker that is away undoes nothing: the row
    waits for the sweep."""

    def enqueue() -> None:
        try:
            task.delay(row_id)
        except (OperationalError, RedisError, OSError) as error:
            log.warning("%s %s waits for the sweep: %s", task.name, row_id, error)

    transaction.on_commit(enqueue)


@shared_task
def mail_reply(version_id: int) -> None:
    send_reply_mail(version_id)


@shared_task
def mail_message(message_id: int) -> None:
    send_message_mail(message_id)


@shared_task
def mail_angle(request_id: int) -> None:
    send_angle_mail(request_id)


@shared_task
def sweep_mail() -> None:
    for version_id in due(ReplyVersion.objects.all()).values_list("pk", flat=True)[:AT_ONCE]:
        send_reply_mail(version_id)
    for message_id in due(Message.objects.all()).values_list("pk", flat=True)[:AT_ONCE]:
        send_message_mail(message_id)
    for request_id in due(AngleRequest.objects.all()).values_list("pk", flat=True)[:AT_ONCE]:
        send_angle_mail(request_id)
    for notice_id in due(ProgrammeNotice.objects.all()).values_list("pk", flat=True)[:AT_ONCE]:
        send_notice_mail(notice_id)
