"""Mail about joining. A mail that cannot be sent is an answer, not an error: the link is shown."""

import logging
import smtplib

from django.conf import settings
from django.core.mail import send_mail
from django.template.loader import render_to_string

from athletes.models import Invitation

log = logging.getLogger(__name__)
# Backends that keep mail on this machine: nobody receives it.
KEPT_HERE = ("filebased", "console", "dummy")


def leaves_this_machine() -> bool:
    return not any(kept in settings.EMAIL_BACKEND for kept in KEPT_HERE)


def send_invitation(invitation: Invitation, link: str) -> bool:
    """Send the link to the address; False when it did not leave this machine."""
    facts = {"invitation": invitation, "link": link}
    subject = render_to_string("athletes/mail/invitation_subject.txt", facts)
    try:
        send_mail(
            " ".join(subject.split()),
            render_to_string("athletes/mail/invitation.txt", facts),
            settings.DEFAULT_FROM_EMAIL,
            [invitation.email],
        )
    except (OSError, smtplib.SMTPException) as error:
        log.warning("invitation %s was not mailed: %s", invitation.pk, error)
        return False
    return leaves_this_machine()
