"""Addresses that are written outside a request: mail and the command line."""

from typing import Any

from django.conf import settings
from django.urls import reverse


def absolute_url(name: str, **parts: Any) -> str:
    """The absolute address of a page, under COACHDESK_URL."""
    return f"{settings.PUBLIC_URL.rstrip('/')}{reverse(name, kwargs=parts)}"
