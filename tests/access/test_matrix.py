"""Walks the access table: every row, every role, own and foreign object."""

import json
from typing import Any

import pytest
from django.db import transaction
from django.test import Client
from django.urls import reverse

from tests.access.conftest import Sides
from tests.access.expecting import LOGIN, ROLES, Answer, Row
from tests.access.routes import routes
from tests.access.table import ADMIN, TABLE
from tests.access.world import World


def ask(client: Client, row: Row, world: World) -> Any:
    path = reverse(row.route, kwargs=row.args(world)) + row.query
    body: dict[str, Any] = {}
    if row.method not in {"GET", "HEAD", "OPTIONS"}:
        data = row.data(world)
        body["data"] = json.dumps(data) if row.content_type == "application/json" else data
        if row.content_type or row.method != "POST":
            body["content_type"] = row.content_type or "application/octet-stream"
            body["data"] = body["data"] or b""
    return getattr(client, row.method.lower())(path, headers=row.headers(world), **body)


def answer_of(response: Any) -> Answer:
    if response.status_code == 302 and response.headers["Location"].startswith("/accounts/login/"):
        return LOGIN
    return response.status_code


@pytest.mark.parametrize("side", ["here", "there"])
@pytest.mark.parametrize("row", TABLE, ids=lambda row: row.name)
def test_everybody_gets_what_the_table_says(
    row: Row, side: str, sides: Sides, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("coachdesk.ops.health.PARTS", {})  # who may ask, not how the parts are
    world = sides.world(side)
    wrong = []
    for role, user in sides.people[side]:
        with transaction.atomic():  # each finds the world as it was built
            got = answer_of(ask(sides.client(user), row, world))
            transaction.set_rollback(True)
        if got != row.expected[role]:
            wrong.append(f"{role} ({user}): expected {row.expected[role]}, got {got}")
    assert not wrong, "\n".join(wrong)


def test_every_route_is_listed() -> None:
    here = {name for name, _ in routes() if not name.startswith(f"{ADMIN}:")}
    listed = {row.route for row in TABLE}
    assert here - listed == set(), "routes that are in no row of tests/access/table.py"
    assert listed - here == set(), "rows of routes that are gone"


def test_every_row_answers_every_role() -> None:
    assert all(set(row.expected) == set(ROLES) for row in TABLE)


def test_rows_are_told_apart() -> None:
    names = [row.name for row in TABLE]
    assert sorted(set(names)) == sorted(names)
