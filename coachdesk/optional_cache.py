"""The shared cache, whose absence costs speed and counts, never a page.

It holds what may be forgotten: how often somebody tried to sign in, when a session was last seen.
While it is away sign-in attempts are not counted; a site that answers nobody would be worse.
django-redis with IGNORE_EXCEPTIONS is no stand-in: away, its `add` says no, and the sign-in limits
ask `add` again and again for their lock; its `touch` raises, its `incr` and `set_many` say nothing.
"""

import logging
from collections.abc import Iterable, Mapping
from typing import Any

from django.core.cache.backends.base import DEFAULT_TIMEOUT
from django.core.cache.backends.redis import RedisCache
from redis.exceptions import RedisError

log = logging.getLogger(__name__)


class OptionalRedisCache(RedisCache):
    """Django's Redis cache; an unreachable server is an empty cache."""

    def get(self, key: Any, default: Any = None, version: int | None = None) -> Any:
        return self._or(default, super().get, key, default, version)

    def set(
        self, key: Any, value: Any, timeout: Any = DEFAULT_TIMEOUT, version: Any = None
    ) -> None:
        self._or(None, super().set, key, value, timeout, version)

    def add(
        self, key: Any, value: Any, timeout: Any = DEFAULT_TIMEOUT, version: Any = None
    ) -> bool:
        return bool(self._or(True, super().add, key, value, timeout, version))

    def touch(self, key: Any, timeout: Any = DEFAULT_TIMEOUT, version: Any = None) -> bool:
        return bool(self._or(False, super().touch, key, timeout, version))

    def delete(self, key: Any, version: int | None = None) -> bool:
        return bool(self._or(False, super().delete, key, version))

    def has_key(self, key: Any, version: int | None = None) -> bool:
        return bool(self._or(False, super().has_key, key, version))

    def incr(self, key: Any, delta: int = 1, version: int | None = None) -> int:
        """Raises ValueError for a key that is not there, as every cache of Django's does."""
        try:
            return int(super().incr(key, delta, version))
        except RedisError as error:
            raise ValueError(f"The cache is away: {error}") from error

    def get_many(self, keys: Iterable[Any], version: int | None = None) -> dict[Any, Any]:
        return dict(self._or({}, super().get_many, keys, version))

    def set_many(
        self, data: Mapping[Any, Any], timeout: Any = DEFAULT_TIMEOUT, version: Any = None
    ) -> list[Any]:
        return list(self._or(list(data), super().set_many, data, timeout, version))

    def delete_many(self, keys: Iterable[Any], version: int | None = None) -> None:
        self._or(None, super().delete_many, keys, version)

    def clear(self) -> None:
        self._or(None, super().clear)

    def _or(self, instead: Any, ask: Any, *arguments: Any) -> Any:
        try:
            return ask(*arguments)
        except RedisError as error:
            log.warning("The cache does not answer: %s", type(error).__name__)
            return instead
