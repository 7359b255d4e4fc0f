"""Byte ranges against RFC 9110 (HTTP Semantics, June 2022), sections 13.1.5 and 14.

The numbers are the standard's own examples where it gives them: a file of 10000 bytes in 14.1.2,
one of 47022 bytes in 14.4 and 15.3.7. The four ranges of a 1234-byte file are the examples of
RFC 7233, section 4.2, its predecessor.
"""

from io import BytesIO

import pytest
from django.http import HttpResponseBase
from django.test import RequestFactory

from coachdesk.common.byte_ranges import BLOCK, Span, Unsatisfiable, ranged_response, wanted_span

# Closing an answer makes Django look after its connections.
pytestmark = pytest.mark.django_db

ETAG = '"a-strong-tag"'


def body_of(size: int) -> bytes:
    return bytes(n * 7 % 251 for n in range(size))


def ask(size: int, method: str = "GET", **headers: str) -> HttpResponseBase:
    request = RequestFactory().generic(method, "/clip", headers=headers)
    return ranged_response(
        request,
        opened=lambda: BytesIO(body_of(size)),
        size=size,
        etag=ETAG,
        headers={"Content-Type": "video/mp4", "Cache-Control": "private"},
    )


def sent(response: HttpResponseBase) -> bytes:
    data = b"".join(response.streaming_content) if response.streaming else response.content
    response.close()
    return data


@pytest.mark.parametrize(
    ("asked", "answered"),
    [
        ("bytes=0-499", "bytes 0-499/1234"),
        ("bytes=500-999", "bytes 500-999/1234"),
        ("bytes=500-", "bytes 500-1233/1234"),
        ("bytes=-500", "bytes 734-1233/1234"),
        ("bytes=1000-99999", "bytes 1000-1233/1234"),  # 14.1.2: a last beyond the end is clipped
        ("bytes=-99999", "bytes 0-1233/1234"),  # 14.1.2: a longer suffix is the whole
        ("bytes=0-0", "bytes 0-0/1234"),
        ("bytes=-1", "bytes 1233-1233/1234"),
        ("BYTES=0-0", "bytes 0-0/1234"),  # 14.1: unit names are case-insensitive
        ("bytes=, 0-0 ,", "bytes 0-0/1234"),  # 5.6.1.2: a recipient accepts empty members
    ],
)
def test_one_part(asked: str, answered: str) -> None:
    response = ask(1234, Range=asked)
    assert response.status_code == 206
    assert response["Content-Range"] == answered
    first, last = (int(n) for n in answered.removeprefix("bytes ").split("/")[0].split("-"))
    assert response["Content-Length"] == str(last - first + 1)
    assert sent(response) == body_of(1234)[first : last + 1]
    assert response["ETag"] == ETAG  # 15.3.7: what a 200 would have carried
    assert response["Cache-Control"] == "private"


def test_the_length_of_a_part() -> None:
    """15.3.7.1: Content-Range bytes 21010-47021/47022 goes with Content-Length 26012."""
    response = ask(47022, Range="bytes=21010-47021")
    assert response["Content-Range"] == "bytes 21010-47021/47022"
    assert response["Content-Length"] == "26012"
    assert len(sent(response)) == 26012


@pytest.mark.parametrize(
    ("asked", "span"),
    [
        ("bytes=0-499", Span(0, 499)),
        ("bytes=500-999", Span(500, 999)),
        ("bytes=-500", Span(9500, 9999)),
        ("bytes=9500-", Span(9500, 9999)),
    ],
)
def test_the_examples_of_14_1_2(asked: str, span: Span) -> None:
    assert wanted_span(asked, 10_000) == span


@pytest.mark.parametrize("asked", ["bytes=1234-", "bytes=1234-2000", "bytes=99999-", "bytes=-0"])
def test_nothing_of_it_is_there(asked: str) -> None:
    """15.5.17: 416, with the real length in Content-Range."""
    response = ask(1234, Range=asked)
    assert response.status_code == 416
    assert response["Content-Range"] == "bytes */1234"
    assert response["Cache-Control"] == "no-store"  # 15.5.17 names no default for caches: say it
    assert sent(response) == b""


@pytest.mark.parametrize(
    "asked",
    [
        "bytes=5-2",  # 14.1.1: last before first is invalid
        "bytes=-",
        "bytes=",
        "bytes=a-b",
        "bytes=1-2x",
        "bytes",
        "0-499",
        "bytes=1--2",
        "bytes=٣-٤",  # digits are ASCII digits
        "seconds=1-2",  # 14.2: an unknown unit is ignored
        "bytes=" + "9" * 5000 + "-",  # more digits than Python turns into a number
        "bytes=0-0,-1",  # several parts: 14.2 lets a server ignore the header
        "bytes=500-600,601-999",
    ],
)
def test_what_is_ignored_gives_the_whole(asked: str) -> None:
    response = ask(1234, Range=asked.encode().decode("latin-1"))
    assert response.status_code == 200
    assert "Content-Range" not in response
    assert response["Content-Length"] == "1234"
    assert sent(response) == body_of(1234)


def test_the_whole_says_that_parts_can_be_had() -> None:
    response = ask(1234)
    assert response["Accept-Ranges"] == "bytes"  # 14.3
    assert sent(response) == body_of(1234)


def test_head_says_the_same_without_a_body_and_knows_no_range() -> None:
    """14.2: a Range on any method but GET is ignored. 9.3.2: HEAD has GET's headers."""
    response = ask(1234, "HEAD", Range="bytes=0-1")
    assert response.status_code == 200
    assert (response["Content-Length"], response["Accept-Ranges"]) == ("1234", "bytes")
    assert sent(response) == b""


@pytest.mark.parametrize(
    ("condition", "status"),
    [
        (ETAG, 206),
        ('"another"', 200),
        ("W/" + ETAG, 200),  # 13.1.5: strong comparison
        ("Wed, 25 Nov 2026 10:00:00 GMT", 200),  # no Last-Modified was sent with which to agree
        ("nonsense", 200),
    ],
)
def test_if_range(condition: str, status: int) -> None:
    response = ask(1234, Range="bytes=0-499", **{"If-Range": condition})
    assert response.status_code == status
    assert len(sent(response)) == (500 if status == 206 else 1234)


def test_if_range_that_fails_makes_even_a_bad_range_harmless() -> None:
    assert ask(10, Range="bytes=99-", **{"If-Range": '"old"'}).status_code == 200


@pytest.mark.parametrize("tag", [ETAG, "W/" + ETAG, f'"x", {ETAG}', "*"])
def test_a_copy_that_still_stands_is_not_sent_again(tag: str) -> None:
    """13.2.2: If-None-Match (weak comparison) is settled before Range."""
    response = ask(1234, Range="bytes=0-1", **{"If-None-Match": tag})
    assert response.status_code == 304
    assert response["ETag"] == ETAG
    assert sent(response) == b""


def test_if_match_of_another_version() -> None:
    assert ask(1234, **{"If-Match": '"other"'}).status_code == 412
    assert ask(1234, **{"If-Match": ETAG}).status_code == 200


def test_an_empty_file() -> None:
    """14.1.2: a first position needs a byte to stand on; a suffix does not."""
    assert sent(ask(0)) == b""
    assert ask(0, Range="bytes=0-").status_code == 416
    response = ask(0, Range="bytes=-5")
    assert (response.status_code, response["Content-Length"]) == (200, "0")


def test_every_span_of_a_small_file() -> None:
    """Exhaustive, against slicing: all first and last of files up to 6 bytes."""
    for size in range(7):
        for first in range(9):
            for last in range(first, 9):
                try:
                    span = wanted_span(f"bytes={first}-{last}", size)
                except Unsatisfiable:
                    assert first >= size
                    continue
                assert span is not None
                whole = body_of(size)
                assert whole[span.first : span.last + 1] == whole[first : last + 1]
                assert span.length == len(whole[first : last + 1])


class Watched(BytesIO):
    most = 0

    def read(self, size: int | None = -1) -> bytes:
        assert size is not None
        assert size >= 0, "the whole file at once"
        self.most = max(self.most, size)
        return super().read(size)


def test_one_block_in_memory_and_closed_however_it_ends() -> None:
    for taken in (0, 1, None):
        file = Watched(body_of(3 * BLOCK + 5))
        response = ranged_response(
            RequestFactory().get("/clip"),
            opened=lambda file=file: file,
            size=3 * BLOCK + 5,
            etag=ETAG,
            headers={},
        )
        blocks = iter(response.streaming_content)
        lengths = [len(block) for _, block in zip(range(taken if taken is not None else 9), blocks)]  # noqa: B905
        assert taken is not None or lengths == [BLOCK, BLOCK, BLOCK, 5]
        response.close()
        assert file.closed
        assert file.most <= BLOCK
