"""Liveness and readiness for whoever watches the server."""

from collections.abc import Callable

import redis
from botocore.exceptions import BotoCoreError, ClientError
from django.conf import settings
from django.core.files.base import ContentFile
from django.core.files.storage import default_storage
from django.db import Error, connection
from django.http import HttpRequest, JsonResponse


def live(request: HttpRequest) -> JsonResponse:
    """The process answers."""
    return JsonResponse({"status": "ok"})


def _database() -> None:
    with connection.cursor() as cursor:
        cursor.execute("SELECT 1")


def broker() -> redis.Redis:
    # Celery names a socket redis+socket://, the client library unix://
    url = settings.CELERY_BROKER_URL.replace("redis+socket://", "unix://")
    return redis.Redis.from_url(url, socket_connect_timeout=1, socket_timeout=1)


def _broker() -> None:
    with broker() as client:
        client.ping()


def _storage() -> None:
    name = default_storage.save("health/probe", ContentFile(b"ok"))
    default_storage.delete(name)


PARTS: dict[str, Callable[[], None]] = {
    "database": _database,
    "broker": _broker,
    "storage": _storage,
}


def state_of(part: str) -> str:
    """Either "ok" or the kind of error. Never its text: an address may hold a password."""
    try:
        PARTS[part]()
    except (Error, redis.RedisError, OSError, BotoCoreError, ClientError) as error:
        return type(error).__name__
    return "ok"


def ready(request: HttpRequest) -> JsonResponse:
    """Every part can be reached; 503 names the ones that cannot."""
    parts = {name: state_of(name) for name in PARTS}
    well = all(state == "ok" for state in parts.values())
    body = {"status": "ok" if well else "not ready", "parts": parts}
    return JsonResponse(body, status=200 if well else 503)
