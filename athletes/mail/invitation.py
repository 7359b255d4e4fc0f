"""Mail about joining. Where it cannot be counted on, the page shows the link itself."""

from django.template.loader import render_to_string

from athletes.mail.services import enqueue_text, leaves_this_machine, mail_is_stuck
from athletes.models import Invitation


def send_invitation(invitation: Invitation, link: str) -> bool:
    """Send the link to the address; False when it stays on this machine, or waits behind others
    for a mail server that is in trouble."""
    facts = {"invitation": invitation, "link": link}
    subject = render_to_string("athletes/mail/invitation_subject.txt", facts)
    counted_on = leaves_this_machine() and not mail_is_stuck()
    enqueue_text(
        to=invitation.email,
        subject=" ".join(subject.split()),
        body=render_to_string("athletes/mail/invitation.txt", facts),
        expires_at=invitation.expires_at,
    )
    return counted_on
