"""Two worlds, and a client for each role in each of them."""

import time

import pytest
from allauth.account.internal.flows.login import (
    _AUTHENTICATION_METHODS_USER_SESSION_KEY as AUTHENTICATED_USER_KEY,
)
from allauth.account.internal.flows.login import (
    AUTHENTICATION_METHODS_SESSION_KEY as AUTHENTICATIONS_KEY,
)
from django.core.cache import cache
from django.test import Client

from athletes.models import Role, User
from tests.access.world import World, build_world
from tests.conftest import Cast


class Sides:
    """`here`: the cast's own athlete. `there`: another club, where the cast are the strangers."""

    def __init__(self, cast: Cast) -> None:
        far_owner = User.objects.create_user(
            "far@example.org",
            "a long passphrase",
            name="Far Owner",
            role=Role.OWNER,
            club=cast.stranger.club,
        )
        self.worlds = {
            "here": build_world(cast.athlete, cast.coach),
            "there": build_world(cast.outsider, cast.stranger),
        }
        self.people: dict[str, list[tuple[str, User | None]]] = {
            "here": [
                ("anonymous", None),
                *((role, getattr(cast, role)) for role in cast._fields),
                ("foreign_owner", far_owner),
            ],
            "there": [
                ("anonymous", None),
                ("athlete", cast.outsider),
                ("coach", cast.stranger),
                ("owner", far_owner),
                ("outsider", cast.athlete),
                ("stranger", cast.coach),
                ("stranger", cast.second_coach),
                ("foreign_owner", cast.owner),
            ],
        }

    def world(self, side: str) -> World:
        return self.worlds[side]


@pytest.fixture
def sides(cast: Cast) -> Sides:
    cache.clear()
    return Sides(cast)


def client_of(user: User | None, **options: object) -> Client:
    """Signed in as if the password was just typed."""
    client = Client(**options)  # type: ignore[arg-type]
    if user is not None:
        client.force_login(user)
        session = client.session
        session[AUTHENTICATED_USER_KEY] = str(user.pk)
        session[AUTHENTICATIONS_KEY] = [
            {"method": "password", "at": time.time(), "reauthenticated": True}
        ]
        session.save()
    return client
