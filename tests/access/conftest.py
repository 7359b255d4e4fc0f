"""Two worlds, and a client for each role in each of them."""

import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from allauth.account.internal.flows.login import (
    _AUTHENTICATION_METHODS_USER_SESSION_KEY as AUTHENTICATED_USER_KEY,
)
from allauth.account.internal.flows.login import (
    AUTHENTICATION_METHODS_SESSION_KEY as AUTHENTICATIONS_KEY,
)
from django.core.cache import cache
from django.db import transaction
from django.test import Client, override_settings

from athletes.models import Role, User
from tests.access.world import World, build_world
from tests.conftest import FAST_HASHERS, Cast, a_club, cast_of, places_in


class Sides:
    """`here`: the cast's own athlete. `there`: another club, where the cast are the strangers."""

    def __init__(self, cast: Cast, places: dict[str, Path]) -> None:
        self.cast, self.places = cast, places
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

        users = {user for side in self.people.values() for _, user in side if user}
        self.cookies = {user.pk: client_of(user).cookies for user in users}
        self.handler = Client().handler  # to build the middleware for each takes its share of time

    def world(self, side: str) -> World:
        return self.worlds[side]

    def client(self, user: User | None) -> Client:
        """A new browser of somebody who signed in when the worlds were built."""
        client = Client()
        client.handler = self.handler
        client.cookies.update(self.cookies[user.pk] if user else {})
        return client


@pytest.fixture(scope="module")
def built(
    django_db_setup: str, django_db_blocker: Any, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Sides]:
    """Both worlds, built once for a whole file of tests: to build them takes longer than to ask
    for a row. What a test changes is gone after it; what was built here, after the file."""
    places = places_in(tmp_path_factory.mktemp("worlds"))
    fast = override_settings(**places, PASSWORD_HASHERS=FAST_HASHERS)
    with django_db_blocker.unblock(), fast, transaction.atomic():
        yield Sides(cast_of(a_club()), places)
        transaction.set_rollback(True)


@pytest.fixture
def sides(built: Sides, db: None, settings: Any) -> Sides:
    for cookies in built.cookies.values():
        just_seen(cookies["sessionid"].value)
    for name, place in built.places.items():
        setattr(settings, name, place)
    return built


@pytest.fixture
def cast(sides: Sides) -> Cast:
    """Those who live in the worlds; a second cast would have the same addresses."""
    return sides.cast


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
        just_seen(session.session_key)
    return client


def just_seen(session_key: str) -> None:
    """When somebody was last here is not what the tables ask, and to write it at every request
    takes a quarter of the time."""
    cache.set(f"seen.{session_key}", 1)
