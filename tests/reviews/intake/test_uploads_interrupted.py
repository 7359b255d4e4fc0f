"""Uploads that are cut, stalled, doubled and killed, against the real server.

Whatever happens, the offset only grows, and the original is the file, byte for byte.
"""

import os
import socket
import struct
import threading
import time
from collections.abc import Iterator

import pytest

from tests.reviews.intake.site import Site
from tests.reviews.intake.tusraw import Raw, sha1

MB = 1024**2
pytestmark = pytest.mark.xdist_group("interrupted")  # one server


@pytest.fixture(scope="module")
def site(tmp_path_factory) -> Iterator[Site]:
    site = Site(tmp_path_factory.mktemp("cut")).prepare().start()
    yield site
    site.end()


@pytest.fixture
def raw(site: Site) -> Iterator[Raw]:
    yield Raw(site)
    if site.process is None:
        site.start()
    site.clear()


@pytest.fixture
def body() -> bytes:
    return os.urandom(6 * MB + 123)


def stored(raw: Raw, path: str) -> int:
    """The size on disk, which asks no writer to stop."""
    return (raw.site.data / "uploads" / path.rsplit("/", 1)[-1].replace("-", "")).stat().st_size


def until(true, seconds: float = 10) -> None:
    deadline = time.monotonic() + seconds
    while not true():
        assert time.monotonic() < deadline, "it did not happen in time"
        time.sleep(0.02)


def finished(raw: Raw, path: str, body: bytes) -> None:
    at = raw.offset(path)
    response = raw.patch(path, at, body[at:])
    assert (response.status, response.headers["Upload-Offset"]) == (204, str(len(body)))
    assert raw.site.original(path) == body


@pytest.mark.parametrize("abrupt", [False, True])
def test_a_cut_connection_keeps_what_arrived(raw: Raw, body: bytes, abrupt: bool) -> None:
    """Closed or reset in the middle: no exception tells the first, so bytes are counted."""
    path = raw.new(len(body))
    connection = raw.slow_patch(path, 0, len(body))
    connection.sendall(body[: 3 * MB])
    until(lambda: stored(raw, path) >= 2 * MB)
    if abrupt:  # SO_LINGER of zero: close() sends a reset
        connection.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack("ii", 1, 0))
    connection.close()
    at = raw.offset(path)
    assert 2 * MB <= at <= 3 * MB
    finished(raw, path, body)


def test_a_connection_that_stalls_holds_up_nobody(raw: Raw, body: bytes) -> None:
    """A phone that left the room: the old connection stays open and silent, then wakes up."""
    path = raw.new(len(body))
    ghost = raw.slow_patch(path, 0, len(body))
    ghost.sendall(body[: 2 * MB + 5])
    until(lambda: stored(raw, path) >= 2 * MB)
    start = time.monotonic()
    at = raw.offset(path)
    assert time.monotonic() - start < 10  # it would wait for as long as the ghost is silent
    assert raw.patch(path, at, body[at : 4 * MB]).headers["Upload-Offset"] == str(4 * MB)
    # Not the file's bytes: they must go nowhere. No more than the server takes at a time: it closes
    # the connection, and what lies there unread then would take the answer with it.
    ghost.sendall(bytes(MB - 5))
    answer = ghost.recv(4096).split(b"\r\n", 1)[0]
    assert b" 423 " in answer
    ghost.close()
    assert raw.offset(path) == 4 * MB
    finished(raw, path, body)


def test_two_writers_never_interleave(raw: Raw, body: bytes) -> None:
    path = raw.new(len(body))
    answers: list[int] = []

    def write(part: bytes) -> None:
        try:
            answers.append(raw.patch(path, 0, part).status)
        except (BrokenPipeError, ConnectionResetError):  # refused while it was still sending
            answers.append(423)

    halves = [body[: 5 * MB], body[: 5 * MB]]
    threads = [threading.Thread(target=write, args=[half]) for half in halves]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(timeout=30)
    assert set(answers) <= {204, 409, 423}
    assert len(answers) == 2
    finished(raw, path, body)


def test_bytes_that_were_acknowledged_survive_kill_9(raw: Raw, body: bytes) -> None:
    path = raw.new(len(body))
    assert raw.patch(path, 0, body[: 2 * MB]).status == 204
    connection = raw.slow_patch(path, 2 * MB, len(body) - 2 * MB)
    connection.sendall(body[2 * MB : 4 * MB])
    until(lambda: stored(raw, path) >= 3 * MB)
    raw.site.end()
    connection.close()
    raw.site.start()
    at = raw.offset(path)
    assert 3 * MB <= at <= 4 * MB
    finished(raw, path, body)


def test_kill_9_under_a_checksum_leaves_nothing_unproved(raw: Raw, body: bytes) -> None:
    path = raw.new(len(body))
    raw.patch(path, 0, body[:MB])
    rest = body[MB:]
    held = raw.site.data / "uploads"
    connection = slow_checked(raw, path, MB, rest)
    connection.sendall(rest[: 3 * MB])
    until(lambda: sum(part.stat().st_size for part in held.glob("*.held-*")) >= 2 * MB)
    raw.site.end()
    connection.close()
    raw.site.start()
    assert raw.offset(path) == MB
    assert raw.patch(path, MB, rest, Upload_Checksum=sha1(rest)).status == 204
    assert raw.site.original(path) == body
    until(lambda: not list(held.glob("*.held-*")))


def slow_checked(raw: Raw, path: str, at: int, rest: bytes) -> socket.socket:
    """As Raw.slow_patch, with the checksum announced."""
    said = raw.site.signed_in
    raw.site.signed_in = lambda who: {**said(who), "Upload-Checksum": sha1(rest)}  # type: ignore[method-assign]
    try:
        return raw.slow_patch(path, at, len(rest))
    finally:
        raw.site.signed_in = said  # type: ignore[method-assign]


def test_the_page_hears_how_far_it_is_without_stopping_it(raw: Raw, body: bytes) -> None:
    clip = raw.site.clip()
    path = raw.create(len(body), clip=clip).headers["Location"]
    connection = raw.slow_patch(path, 0, len(body))
    connection.sendall(body[: 4 * MB])
    until(lambda: raw.site.card(clip)["upload"]["offset"] >= 3 * MB)
    connection.sendall(body[4 * MB :])
    until(lambda: raw.site.card(clip)["state"] == "processing")
    assert b" 204 " in connection.recv(4096).split(b"\r\n", 1)[0]
    connection.close()
    assert raw.site.original(path) == body


def test_a_lost_last_answer_is_asked_for_again(raw: Raw) -> None:
    """The whole file is in, the 204 was lost: HEAD says so, and an empty PATCH agrees."""
    path = raw.create(5, body=b"hello").headers["Location"]
    assert raw.offset(path) == 5
    assert raw.patch(path, 5, b"").status == 204
    assert raw.site.original(path) == b"hello"
