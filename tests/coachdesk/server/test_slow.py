"""Whoever is slow is given up on, and no thread waits for them but an upload's."""

import threading
from contextlib import suppress
from typing import Any

import pytest

from coachdesk.server import request_body, server_limits
from tests.coachdesk.server.conftest import UPLOADS, everything, is_ended

FORM = "POST /form HTTP/1.1\nHost: x\nContent-Length: 10\n\n"
UPLOAD = f"PATCH {UPLOADS} HTTP/1.1\nHost: x\nContent-Length: 10\n\n"


class Reads:
    """Reads the whole body as an upload does, and keeps it."""

    def __init__(self) -> None:
        self.bodies: list[bytes] = []
        self.has_read = threading.Event()

    def __call__(self, environ: dict[str, Any], start: Any) -> list[bytes]:
        left, blocks = int(environ["CONTENT_LENGTH"]), []
        while left and (block := environ["wsgi.input"].read(min(left, 4))):
            blocks.append(block)
            left -= len(block)
        self.bodies.append(b"".join(blocks))
        self.has_read.set()
        start("200 OK", [("Content-Length", "2")])
        return [b"ok"]


def never(environ: dict[str, Any], start: Any) -> list[bytes]:
    raise AssertionError("the application was asked")


def test_a_form_that_stops_is_told_so_without_the_application(
    serve, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(server_limits, "FORM_SECONDS", 0.2)
    answer = serve(never).answer(FORM + "half.")
    assert answer.startswith("HTTP/1.1 408 ")
    assert "came too slowly" in answer


def test_a_form_at_a_few_bytes_a_second_is_given_up_on_too(
    serve, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(server_limits, "FORM_SECONDS", 0.5)
    with serve(never).connect(FORM.replace("10", "50000")) as connection:
        stop = threading.Event()

        def trickle() -> None:
            while not stop.wait(0.05):
                connection.send(b".")

        thread = threading.Thread(target=trickle)
        thread.start()
        try:
            assert connection.recv(65536).startswith(b"HTTP/1.1 408 ")
        finally:
            stop.set()
            thread.join()


def test_headers_that_do_not_come_end_the_connection(
    serve, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(server_limits, "HEADER_SECONDS", 0.2)
    serving = serve(never)
    for text in ("", "G", "GET / HTTP/1.1\nHost:"):
        with serving.connect(text) as connection:
            assert is_ended(connection)


def test_so_do_those_of_a_second_request(serve, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(server_limits, "HEADER_SECONDS", 0.2)
    with serve(Reads()).connect(FORM + "0123456789") as connection:
        answer = b""
        while not answer.endswith(b"ok"):
            answer += connection.recv(65536)
        connection.sendall(b"\r\n")  # allowed between two requests, and part of none
        assert is_ended(connection)


def test_headers_without_end_end_the_connection(serve) -> None:
    with serve(never).connect("GET / HTTP/1.1\n") as connection:
        with suppress(ConnectionError):
            for number in range(1000):
                connection.sendall(b"X-%d: " % number + b"y" * 1000 + b"\r\n")
        assert is_ended(connection)


@pytest.mark.parametrize("how", ["silence", "cut"])
def test_what_came_of_an_upload_counts(serve, monkeypatch: pytest.MonkeyPatch, how: str) -> None:
    monkeypatch.setattr(server_limits, "UPLOAD_SECONDS", 0.3 if how == "silence" else 60.0)
    reads = Reads()
    with serve(reads).connect(UPLOAD + "half.") as connection:
        if how == "silence":
            assert "200 OK" in everything(connection)
    assert reads.has_read.wait(10)
    assert reads.bodies == [b"half."]


def test_a_slow_upload_is_handed_on_before_it_is_whole(
    serve, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(request_body, "STORE_SECONDS", 0.1)
    came = threading.Event()

    def application(environ: dict[str, Any], start: Any) -> list[bytes]:
        assert environ["wsgi.input"].read(10) == b"half."
        came.set()
        assert environ["wsgi.input"].read(5) == b"whole"
        start("204 No Content", [])
        return []

    with serve(application).connect(UPLOAD + "half.") as connection:
        assert came.wait(10)
        connection.sendall(b"whole")
        assert b"204 No Content" in connection.recv(65536)


def test_a_reader_that_stops_is_let_go(serve, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(server_limits, "SEND_SECONDS", 0.3)
    closed = threading.Event()

    class Endless:
        def __iter__(self) -> "Endless":
            return self

        def __next__(self) -> bytes:
            return bytes(65536)

        def close(self) -> None:
            closed.set()

    def application(environ: dict[str, Any], start: Any) -> Endless:
        start("200 OK", [])
        return Endless()

    with serve(application).connect("GET / HTTP/1.1\nHost: x\n\n", SO_RCVBUF=4096):
        assert closed.wait(20)


def test_more_slow_readers_than_threads_hold_up_nobody(serve) -> None:
    """Each takes a first block and no more of an answer that the kernel's buffers cannot hold."""

    def application(environ: dict[str, Any], start: Any) -> list[bytes]:
        start("200 OK", [])
        return [bytes(32 * 1024**2)] if environ["PATH_INFO"] == "/large" else [b"ok"]

    serving = serve(application)
    large = "GET /large HTTP/1.1\nHost: x\n\n"
    held = [serving.connect(large, SO_RCVBUF=4096) for _ in range(server_limits.PAGE_THREADS + 1)]
    for connection in held:
        assert connection.recv(1)
    assert "ok" in serving.answer("GET / HTTP/1.1\nHost: x\nConnection: close\n\n")
    for connection in held:
        connection.close()
