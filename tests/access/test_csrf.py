"""Nothing changes without a CSRF token: every unsafe method, on every route, for every kind of
person who is signed in. Views answer 403 before they look at anything else."""

import pytest
from django.db import transaction
from django.test import Client
from django.urls import NoReverseMatch, reverse

from tests.access.conftest import Sides, client_of
from tests.access.routes import routes
from tests.access.table import ADMIN, TABLE
from tests.conftest import Cast

pytestmark = pytest.mark.xdist_group("csrf")  # one pair of worlds
UNSAFE = ["post", "put", "patch", "delete"]
ROWS = {row.route: row for row in TABLE}


@pytest.mark.parametrize("who", ["athlete", "coach", "owner"])
def test_every_route_refuses_without_a_token(who: str, cast: Cast, sides: Sides) -> None:
    client = client_of(getattr(cast, who), enforce_csrf_checks=True)
    taken = []
    for name, row in ROWS.items():
        path = reverse(name, kwargs=row.args(sides.world("here")))
        for method in UNSAFE:
            with transaction.atomic():
                response = getattr(client, method)(path, data=b"", content_type="text/plain")
                transaction.set_rollback(True)
            if response.status_code != 403:
                taken.append(f"{method} {path}: {response.status_code}")
    assert not taken


def test_the_admin_refuses_too(cast: Cast) -> None:
    type(cast.owner).objects.filter(pk=cast.owner.pk).update(is_staff=True, is_superuser=True)
    client = client_of(cast.owner, enforce_csrf_checks=True)
    taken = []
    for name, _ in routes():
        path = admin_path(name, cast) if name.startswith(f"{ADMIN}:") else None
        if path and client.post(path).status_code != 403:
            taken.append(path)
    assert not taken


def admin_path(name: str, cast: Cast) -> str | None:
    """The address of an admin route that takes nothing or one object; None for the others."""
    for args in ([], [cast.athlete.pk]):
        try:
            return reverse(name, args=args)
        except NoReverseMatch:
            continue
    return None


def test_a_token_opens_what_belongs_to_it(cast: Cast) -> None:
    """The refusals above are about the token: with one, the same request goes through."""
    client = client_of(cast.athlete, enforce_csrf_checks=True)
    client.get("/me/")
    facts = {"name": "Mira S.", "unit": "kg", "timezone": "UTC"}
    assert client.post("/me/", facts).status_code == 403
    facts["csrfmiddlewaretoken"] = client.cookies["csrftoken"].value
    assert client.post("/me/", facts).status_code == 302


def test_somebody_who_is_not_signed_in_is_refused_too(db) -> None:
    client = Client(enforce_csrf_checks=True)
    answer = client.post("/accounts/login/", {"login": "a@example.org", "password": "x"})
    assert answer.status_code == 403
    assert b"Send it once more" in answer.content
