"""Answer GET and HEAD for one stored file with byte ranges (RFC 9110, sections 13 and 14).

Django's own file response ignores Range, and without ranges a browser cannot seek in a clip that
has not arrived whole. Works for any Django storage and holds one block in memory.
"""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import IO, Any

from django.http import HttpRequest, HttpResponse, HttpResponseBase, StreamingHttpResponse
from django.utils.cache import get_conditional_response

BLOCK = 256 * 1024

# RFC 9110, section 14.1: unit names are case-insensitive; a list may have empty members.
_SPECIFIER = re.compile(r"bytes=(?P<set>.+)", re.IGNORECASE)
_SPEC = re.compile(r"(?P<first>[0-9]{0,40})-(?P<last>[0-9]{0,40})")


class Unsatisfiable(Exception):
    """The range is well formed and lies outside of the file."""


@dataclass(frozen=True)
class Span:
    """Bytes `first` to `last`, both included."""

    first: int
    last: int

    @property
    def length(self) -> int:
        return self.last - self.first + 1


def wanted_span(header: str, size: int) -> Span | None:
    """The part that a Range header asks of a file of `size` bytes; None for the whole file.

    The header is ignored when it is malformed, of another unit, or asks for several parts: section
    14.2 lets a server ignore it, no player of video or sound asks for several, and answering with
    many small or overlapping ones is how a server is made to send more than it holds.
    Raises Unsatisfiable.
    """
    specifier = _SPECIFIER.fullmatch(header.strip())
    if specifier is None:
        return None
    specs = [part.strip(" \t") for part in specifier["set"].split(",")]
    specs = [part for part in specs if part]
    spec = _SPEC.fullmatch(specs[0]) if len(specs) == 1 else None
    if spec is None or spec[0] == "-":
        return None
    if not spec["first"]:
        return _suffix(int(spec["last"]), size)
    first = int(spec["first"])
    last = int(spec["last"]) if spec["last"] else first
    if last < first:
        return None
    if first >= size:
        raise Unsatisfiable
    return Span(first, min(last, size - 1) if spec["last"] else size - 1)


def ranged_response(
    request: HttpRequest,
    *,
    opened: Callable[[], IO[Any]],
    size: int,
    etag: str,
    headers: dict[str, str],
    front: Callable[[bool], str | None] = lambda part: None,
) -> HttpResponseBase:
    """200, 206, 304, 412 or 416 for a file of `size` bytes, as the request's headers ask.

    `opened` gives the file, seekable, and is called only when bytes are sent. `etag` is strong and
    quoted. `headers` go on every answer. `front`, told whether a part is asked, gives the front
    server's own address of the file where that is to send it; every refusal and condition is
    answered here all the same.
    """
    plain = HttpResponse(headers={**headers, "ETag": etag, "Accept-Ranges": "bytes"})
    conditional = get_conditional_response(request, etag=etag, response=plain)
    if conditional is not None and conditional is not plain:
        return conditional
    try:
        span = _asked(request, size, etag)
    except Unsatisfiable:
        plain.status_code = 416
        plain["Content-Range"] = f"bytes */{size}"
        plain["Cache-Control"] = "no-store"  # or it is kept for as long as the file would be
        return plain
    part = span or Span(0, size - 1)
    # A range that is ignored is sent from here: the front may read the header in another way.
    if request.method == "GET" and (span is not None or "Range" not in request.headers):
        address = front(span is not None)
        if address is not None:
            plain["X-Accel-Redirect"] = address
            return plain
    if request.method == "HEAD":
        answer: HttpResponseBase = plain
    else:
        answer = StreamingHttpResponse(_Blocks(opened, part), headers=plain.headers)
    if span is not None:
        answer.status_code = 206
        answer["Content-Range"] = f"bytes {span.first}-{span.last}/{size}"
    answer["Content-Length"] = str(part.length)
    return answer


def _suffix(length: int, size: int) -> Span | None:
    if length == 0:
        raise Unsatisfiable
    # An empty file satisfies a suffix (section 14.1.2), but no Content-Range can say so.
    return Span(max(0, size - length), size - 1) if size else None


def _asked(request: HttpRequest, size: int, etag: str) -> Span | None:
    """Range is for GET alone (section 14.2), and only for the version that If-Range names."""
    header = request.headers.get("Range")
    if header is None or request.method != "GET":
        return None
    # Strong comparison (section 13.1.5): a weak tag never matches. Nor does a date, since no
    # Last-Modified is sent with which it could agree.
    if request.headers.get("If-Range", etag).strip() != etag:
        return None
    return wanted_span(header, size)


class _Blocks:
    """The bytes of a span. Django closes it when the answer ends, also one that was cut."""

    def __init__(self, opened: Callable[[], IO[Any]], span: Span) -> None:
        self._file = opened()
        self._span = span

    def __iter__(self) -> Iterator[bytes]:
        left = self._span.length
        self._file.seek(self._span.first)
        while left > 0:
            block = self._file.read(min(BLOCK, left))
            if not block:
                return  # the file shrank: end short, so that the client sees a cut answer
            left -= len(block)
            yield block

    def close(self) -> None:
        self._file.close()
