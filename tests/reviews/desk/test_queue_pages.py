"""The queue by API, a part at a time: every question once, in the desk's order."""

import pytest

from reviews.desk import queue_pages
from reviews.desk.queries import in_queue_order, waiting_for
from tests.conftest import Cast
from tests.reviews.desk.build import sent


@pytest.fixture
def seven(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Seven that wait, three of them sent in the same moment; parts of two."""
    monkeypatch.setattr(queue_pages, "PART", 2)
    same = sent(cast.athlete, days=2).sent_at
    for facts in ({"pain": 4}, {"signs": ("numb",)}, {"days": 30}, {"days": 1}):
        sent(cast.athlete, **facts)
    for _ in range(2):
        row = sent(cast.athlete)
        type(row).objects.filter(pk=row.pk).update(sent_at=same)
    return [str(row.pk) for row in in_queue_order(waiting_for(cast.coach))]


def test_the_parts_are_the_whole_queue_in_its_order(client, cast: Cast, seven: list[str]) -> None:
    client.force_login(cast.coach)
    address, found = "/api/v1/desk/", []
    while address:
        answer = client.get(address).json()
        found += [row["id"] for row in answer["results"]]
        address = answer["next"]
    assert found == seven


@pytest.mark.parametrize("cursor", ["", "x", "W10=", "WzAsMCwwLDBd", "W1tdLDAsIjIwMjYiLDBd"])
def test_a_cursor_that_was_never_given_is_not_found(client, cast: Cast, cursor: str) -> None:
    client.force_login(cast.coach)
    assert client.get("/api/v1/desk/", {"cursor": cursor}).status_code == 404
