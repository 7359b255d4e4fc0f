"""Django's admin is closed to everybody but staff, on every one of its routes."""

import pytest
from django.urls import NoReverseMatch, reverse

from tests.access.conftest import client_of
from tests.access.routes import routes
from tests.access.table import ADMIN
from tests.conftest import Cast, a_club, cast_of

pytestmark = pytest.mark.xdist_group("admin")  # one cast
PEOPLE = [None, *Cast._fields]
# The sign-in page itself and the scripts' words answer everybody, and show nothing.
OPEN = {"admin:login", "admin:logout", "admin:jsi18n"}


@pytest.fixture
def cast(db: None) -> Cast:
    """People are enough: no worlds around them."""
    return cast_of(a_club())


def admin_routes() -> list[str]:
    return [name for name, _ in routes() if name.startswith(f"{ADMIN}:")]


def addresses(pk: int) -> list[str]:
    """Each admin route that can be built from nothing, one id, or one app."""
    found = []
    for name in admin_routes():
        for args in ([], [pk], ["athletes"], [1, pk]):
            try:
                found.append(reverse(name, args=args))
                break
            except NoReverseMatch:
                continue
    return found


def test_there_is_an_admin_to_close() -> None:
    names = admin_routes()
    assert {"admin:index", "admin:athletes_user_changelist"} <= set(names)


@pytest.mark.parametrize("who", PEOPLE)
def test_nobody_without_staff_gets_in(who: str | None, cast: Cast) -> None:
    client = client_of(getattr(cast, who) if who else None)
    open_to_all = {reverse(name) for name in OPEN}
    inside = []
    for address in set(addresses(cast.athlete.pk)) - open_to_all:
        response = client.get(address)
        if response.status_code == 200:
            inside.append(address)
    assert not inside
