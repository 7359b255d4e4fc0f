"""A POST with an `Idempotency-Key` can be sent again: it does its work once and answers the same.

draft-ietf-httpapi-idempotency-key-header: the same key with another request is 422. Of two at once,
the second waits for the first (its row is unique and part of the same transaction as the work) and
gets its answer. Only answers of the 2xx kind are kept: what was refused did nothing. Fields that
a view names in ``secret_fields`` are not kept: they are null the second time.
"""

import hashlib
import json
import re
from collections.abc import Callable
from typing import Any

from django.db import IntegrityError, transaction
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from rest_framework.exceptions import APIException
from rest_framework.request import Request
from rest_framework.views import APIView

from coachdesk.common.api.problems import problem
from coachdesk.common.models import IdempotencyRecord

HEADER = "Idempotency-Key"
KEY = re.compile(r'"?([!#-~]{1,128}?)"?')  # a string of RFC 8941, or the same without quotes
MALFORMED = "An Idempotency-Key is 1 to 128 visible ASCII characters."
OTHER = "This Idempotency-Key was used for another request. Use a new one."
Answer = Callable[[HttpRequest], HttpResponseBase]


class IdempotencyMiddleware:
    def __init__(self, answer: Answer) -> None:
        self.answer = answer

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        return self.answer(request)

    def process_view(
        self, request: HttpRequest, view: Any, args: Any, kwargs: Any
    ) -> HttpResponseBase | None:
        said = request.headers.get(HEADER)
        if said is None or request.method != "POST" or not _is_json_api(request, view):
            return None
        key = KEY.fullmatch(said)
        if key is None:
            return problem(400, MALFORMED)
        try:
            asking = Request(request, authenticators=view.cls().get_authenticators())
            who, token = asking.user, asking.auth
        except APIException:
            return None  # the view answers 401
        if not who.is_authenticated:
            return None
        fingerprint = _fingerprint(request, token)
        try:
            return _first(request, view, args, kwargs, who, key[1], fingerprint)
        except IntegrityError:
            kept = IdempotencyRecord.objects.filter(user=who, key=key[1]).first()
            if kept is None:
                raise  # of the work itself
        return _again(kept, fingerprint)


def _is_json_api(request: HttpRequest, view: Any) -> bool:
    """Not the uploads: their body is a film, and tus has repeats of its own."""
    return issubclass(getattr(view, "cls", object), APIView) and request.path.startswith("/api/")


def _fingerprint(request: HttpRequest, token: Any) -> str:
    parts = [str(getattr(token, "pk", "")).encode(), request.get_full_path().encode(), request.body]
    return hashlib.sha256(b"\n".join(parts)).hexdigest()


def _first(
    request: HttpRequest, view: Any, args: Any, kwargs: Any, who: Any, key: str, fingerprint: str
) -> HttpResponseBase:
    """The work and its answer, both or neither. IntegrityError when the key is there already.
    What a view must ask others for, it asks in ``prepare``: no transaction waits for them."""
    if IdempotencyRecord.objects.filter(user=who, key=key).exists():
        raise IntegrityError
    if prepare := getattr(view.cls, "prepare", None):
        prepare(request)
    with transaction.atomic():
        row = IdempotencyRecord.objects.create(user=who, key=key, fingerprint=fingerprint)
        response = view(request, *args, **kwargs)
        if hasattr(response, "render"):
            response.render()
        if not 200 <= response.status_code < 300:
            transaction.set_rollback(True)
            return response
        row.status, row.body = response.status_code, _kept(response, view)
        row.content_type = response.headers.get("Content-Type", "")
        row.save()
    return response


def _kept(response: Any, view: Any) -> bytes:
    secret = getattr(view.cls, "secret_fields", ())
    if not secret:
        return bytes(response.content)
    told = {**json.loads(response.content), **dict.fromkeys(secret)}
    return json.dumps(told, ensure_ascii=False, separators=(",", ":")).encode()


def _again(kept: IdempotencyRecord, fingerprint: str) -> HttpResponse:
    if kept.fingerprint != fingerprint:
        return problem(422, OTHER)
    answer = HttpResponse(
        bytes(kept.body), status=kept.status, content_type=kept.content_type or None
    )
    if not kept.content_type:
        del answer.headers["Content-Type"]
    answer.headers["Idempotency-Replayed"] = "true"
    return answer
