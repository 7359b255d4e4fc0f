"""Celery's way in. Rows are the truth; a lost message is found by the sweep."""

from celery import shared_task

from athletes.mail.deliver_mail import deliver_due


@shared_task
def deliver_mail() -> None:
    deliver_due()
