"""Addresses that are written outside a request: mail and the command line."""

from django.conf import settings
from django.urls import reverse


def join_link(token: str) -> str:
    """The absolute address of an invitation, under COACHDESK_URL."""
    return f"{settings.PUBLIC_URL.rstrip('/')}{reverse('join', args=[token])}"
