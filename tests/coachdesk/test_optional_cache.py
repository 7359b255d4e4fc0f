"""A cache that is away is an empty one; one that is there is a cache."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from coachdesk.optional_cache import OptionalRedisCache
from tests.faults.ground import Ground, free_port


@pytest.fixture
def away() -> OptionalRedisCache:
    return OptionalRedisCache(f"redis://127.0.0.1:{free_port()}/1", {})


@pytest.fixture
def there(tmp_path: Path) -> Iterator[OptionalRedisCache]:
    ground = Ground(tmp_path, {})
    ground.broker()
    yield OptionalRedisCache(ground.url, {})
    ground.end()


def test_away_it_holds_nothing_and_breaks_nothing(away: OptionalRedisCache) -> None:
    away.set("tries", 1)
    assert away.get("tries", "none") == "none"
    assert away.add("tries", 1) is True
    assert away.get_many(["tries"]) == {}
    assert away.set_many({"tries": 1}) == ["tries"]
    assert (away.touch("tries"), away.delete("tries"), "tries" in away) == (False, False, False)
    away.delete_many(["tries"])
    away.clear()
    assert away.get_or_set("tries", 5) == 5
    with pytest.raises(ValueError, match="away"):
        away.incr("tries")


def test_there_it_keeps_what_it_is_given(there: OptionalRedisCache) -> None:
    there.set("tries", 1)
    assert there.incr("tries") == 2
    assert there.add("tries", 9) is False
    assert there.get_many(["tries"]) == {"tries": 2}
    assert there.delete("tries") is True
    with pytest.raises(ValueError, match="not found"):
        there.incr("tries")
