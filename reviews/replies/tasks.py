"""Celery's way in. Rows are the truth; a lost message is found by the sweep."""

from celery import shared_task

from reviews.replies.mailing import due, send_message_mail, send_reply_mail
from reviews.replies.models import Message, ReplyVersion

AT_ONCE = 50  # a sweep is short; the next one goes on


@shared_task
def mail_reply(version_id: int) -> None:
    send_reply_mail(version_id)


@shared_task
def mail_message(message_id: int) -> None:
    send_message_mail(message_id)


@shared_task
def sweep_mail() -> None:
    for version_id in due(ReplyVersion.objects.all()).values_list("pk", flat=True)[:AT_ONCE]:
        send_reply_mail(version_id)
    for message_id in due(Message.objects.all()).values_list("pk", flat=True)[:AT_ONCE]:
        send_message_mail(message_id)
