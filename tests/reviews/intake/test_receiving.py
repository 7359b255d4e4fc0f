"""Reading a body: silence is given up on, and a cut is counted."""

import io
import socket

import pytest
from django.core.handlers.wsgi import WSGIRequest
from django.http.request import UnreadablePostError

from reviews.intake import receiving
from reviews.intake.receiving import blocks, impatient


def test_a_silent_connection_is_given_up_on(monkeypatch: pytest.MonkeyPatch) -> None:
    """A phone that left without a word would else hold one thread for ever."""
    monkeypatch.setattr(receiving, "SILENCE_SECONDS", 0.1)
    phone, server = socket.socketpair()
    environ = {
        "REQUEST_METHOD": "PATCH",
        "CONTENT_LENGTH": "10",
        "wsgi.input": server.makefile("rb", buffering=0),
        "gunicorn.socket": server,
    }
    phone.sendall(b"half.")
    with impatient(environ):
        assert b"".join(blocks(WSGIRequest(environ), 10)) == b"half."
    assert server.gettimeout() is None  # the next request on this connection has its own patience
    phone.close()
    server.close()


def test_a_body_that_ends_early_just_ends() -> None:
    assert b"".join(blocks(io.BytesIO(b"half."), 10)) == b"half."


def test_a_reset_in_the_middle_keeps_what_came_before() -> None:
    class Reset(io.BytesIO):
        def read(self, size: int | None = -1, /) -> bytes:
            block = super().read(size)
            if not block:
                raise UnreadablePostError("reset")
            return block

    assert b"".join(blocks(Reset(b"half."), 10)) == b"half."


def test_never_more_than_was_announced() -> None:
    assert b"".join(blocks(io.BytesIO(b"0123456789"), 4)) == b"0123"
