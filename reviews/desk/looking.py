"""Which part of the queue a coach works in, kept from page to page while they are signed in: from
the desk to the workbench, to the next one and back."""

from django.http import HttpRequest
from django.urls import reverse

from reviews.desk.sifting import Sifted

LOOKED_AT = "looked at"  # key in the session


def looks_at(request: HttpRequest, sifted: Sifted) -> None:
    """The desk shows this part now. The session is written only where that is new."""
    if request.session.get(LOOKED_AT, {}) != sifted.kept:
        request.session[LOOKED_AT] = sifted.kept


def query(request: HttpRequest) -> str:
    """``?what=pain``, or nothing: for the address of the desk, and of what opens the next."""
    return Sifted.asked(request.session.get(LOOKED_AT, {})).query


def desk_address(request: HttpRequest) -> str:
    """The desk as this coach left it."""
    return reverse("desk") + query(request)
