"""Celery's way in. Rows are the truth; a lost message is found by the sweep."""

from celery import shared_task


@shared_task
def deliver_mail() -> None:
    from athletes.mail.delivery import deliver_due  # needs every app's models

    deliver_due()
