"""Browsers in which a person signed in before. Their attempts to sign in are counted apart, so that
somebody who guesses a password locks neither its owner out nor the gym whose address they share.

A signed cookie, as OWASP's "Device Cookies" describes it. It opens nothing: it only says whose
attempts these are.
"""

import secrets
from datetime import timedelta

from django.conf import settings
from django.core import signing
from django.http import HttpRequest, HttpResponseBase

from athletes.models import User

COOKIE = "known_device"
SALT = "athletes.known_device"
LASTS = timedelta(days=400)  # the longest that browsers keep a cookie (RFC 6265bis)
MOST_PEOPLE = 5  # a tablet in the gym


def remember_device(request: HttpRequest, response: HttpResponseBase, person: User) -> None:
    """This browser is one of this person's from now on."""
    device, people = _read(request)
    others = [pk for pk in people if pk != person.pk]
    value = signing.dumps([device, [person.pk, *others][:MOST_PEOPLE]], salt=SALT)
    response.set_cookie(
        COOKIE,
        value,
        max_age=LASTS,
        httponly=True,
        secure=settings.SESSION_COOKIE_SECURE,
        samesite="Lax",
    )


def known_device(request: HttpRequest, email: str) -> str | None:
    """The id of this browser, where the person of this address signed in before; else None."""
    device, people = _read(request)
    if not people:
        return None
    person = User.objects.filter(email=email.strip().lower()).values_list("pk", flat=True).first()
    return device if person in people else None


def _read(request: HttpRequest) -> tuple[str, list[int]]:
    try:
        device, people = signing.loads(request.COOKIES.get(COOKIE, ""), salt=SALT, max_age=LASTS)
    except signing.BadSignature:
        return secrets.token_hex(8), []
    return device, people
