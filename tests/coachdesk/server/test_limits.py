"""What is too much is refused with a sentence, before the application is asked."""

import json
from typing import Any

import pytest

from coachdesk.server import server_limits
from tests.coachdesk.server.conftest import MOST_BYTES, UPLOADS, everything, is_ended

POST = "POST /form HTTP/1.1\nHost: x\n"


def never(environ: dict[str, Any], start: Any) -> list[bytes]:
    raise AssertionError("the application was asked")


def test_a_form_that_is_too_large_is_refused_by_its_announcement(serve) -> None:
    answer = serve(never).answer(f"{POST}Content-Length: {MOST_BYTES + 1}\n\n")
    head, _, body = answer.partition("\r\n\r\n")
    assert head.startswith("HTTP/1.1 413 ")
    assert "application/problem+json" in head
    assert "Nothing was saved" in json.loads(body)["detail"]


def test_and_one_that_announces_nothing_as_soon_as_it_is(serve) -> None:
    chunk = f"{MOST_BYTES + 1:x}\n{'a' * (MOST_BYTES + 1)}\n"
    answer = serve(never).answer(f"{POST}Transfer-Encoding: chunked\n\n{chunk}")
    assert answer.startswith("HTTP/1.1 413 ")


def test_a_page_is_told_in_words(serve) -> None:
    accept = "Accept: text/html,application/xhtml+xml\n"
    answer = serve(never).answer(f"{POST}{accept}Content-Length: {MOST_BYTES + 1}\n\n")
    assert answer.partition("\r\n\r\n")[2].startswith("This is more than a page takes")
    assert "text/plain" in answer


def test_the_sentence_is_heard_by_someone_who_still_sends(serve) -> None:
    """A connection closed over unread bytes would be reset, and the answer lost with it."""
    length = 8 * 1024**2
    with serve(never).connect(f"{POST}Content-Length: {length}\n\n") as connection:
        connection.sendall(bytes(length))
        assert everything(connection).startswith("HTTP/1.1 413 ")


def test_one_address_cannot_have_every_upload(serve, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(server_limits, "UPLOADS_OF_ADDRESS", 2)

    def application(environ: dict[str, Any], start: Any) -> list[bytes]:
        environ["wsgi.input"].read(10)
        start("204 No Content", [])
        return []

    serving = serve(application)
    upload = f"PATCH {UPLOADS} HTTP/1.1\nHost: x\nConnection: close\nContent-Length: 10\n\n"
    held = [serving.connect(upload) for _ in range(2)]
    refused = serving.answer(upload)
    assert refused.startswith("HTTP/1.1 503 ")
    assert "retry-after: 5" in refused
    assert "goes on by itself" in refused
    for connection in held:
        connection.sendall(b"0123456789")
        assert "204 No Content" in everything(connection)
        connection.close()
    assert "204 No Content" in serving.answer(f"{upload}0123456789")


def test_one_address_cannot_fill_the_memory_with_forms(
    serve, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(server_limits, "FORM_BYTES_OF_ADDRESS", 100)
    serving = serve(never)
    with serving.connect(f"{POST}Content-Length: 200\n\n{'a' * 90}"):
        answer = ""
        while not answer.startswith("HTTP/1.1 503 "):  # until the first one's bytes are counted
            answer = serving.answer(f"{POST}Content-Length: 21\n\n{'a' * 20}")
    assert "retry-after: 5" in answer


def test_a_connection_above_the_share_is_closed(serve, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(server_limits, "CONNECTIONS", 2)
    serving = serve(never)
    held = [serving.connect("G") for _ in range(2)]
    with serving.connect("G") as connection:
        assert is_ended(connection)
    for connection in held:
        connection.close()


def test_who_was_told_to_come_later_is_told_again_without_the_application(serve) -> None:
    asked = []

    def application(environ: dict[str, Any], start: Any) -> list[bytes]:
        asked.append(environ["HTTP_COOKIE"])
        start("429 Too Many Requests", [("Content-Length", "0")])
        return []

    serving = serve(application)
    upload = f"PATCH {UPLOADS} HTTP/1.1\nHost: x\nContent-Length: 10\nCookie: "
    assert serving.answer(f"{upload}a=1\n\n").startswith("HTTP/1.1 429 ")
    again = serving.answer(f"{upload}a=1\n\n")
    assert again.startswith("HTTP/1.1 429 ")
    assert "retry-after: 5" in again
    assert "goes on by itself" in again
    serving.answer(f"{upload}a=2\n\n")
    assert asked == ["a=1", "a=2"]
