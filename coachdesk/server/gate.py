"""Between the event loop and the WSGI application: waits for the slow, so that no thread has to.

The body of a page's request is collected before a thread is asked, within a limit, so that nothing
is spooled that will be refused. Only an upload's thread reads while the body comes: what arrived
is stored, also when the rest never does. Answers are sent from here, block by block.
"""

import io
import time
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from http import HTTPStatus
from typing import Any

from coachdesk.server import server_limits
from coachdesk.server.request_body import BlockReader, Body, ClientGone, Receive, TooSlow
from coachdesk.server.send_response import RETRY_SECONDS, Send, begin, send_answer, send_refusal
from coachdesk.server.wsgi_call import WsgiCall, environ_of

Sender = tuple[bytes, ...]

TOO_LARGE = "This is more than a page takes ({kib} KiB). Nothing was saved: send less at once."
LATE = "Your data came too slowly. Nothing was saved: try again on a better network."
BUSY = "Too much is arriving at once. Nothing was saved: wait a moment and try again."
UPLOADS_BUSY = "Many clips are arriving at once. What came in is kept; yours goes on by itself."
SENDER_BUSY = "Several of your clips are arriving now. This one goes on by itself after them."


class RequestRefused(Exception):
    """Answered without the application: a status and a sentence."""

    def __init__(self, status: int, sentence: str) -> None:
        super().__init__(sentence)
        self.status = status


class Gate:
    """An ASGI application around a WSGI one.

    `streams` tells whether the view at a path reads its body while it comes.
    """

    def __init__(
        self,
        application: Callable[..., Iterable[bytes]],
        *,
        streams: Callable[[str], bool],
        most_bytes: int,
        is_behind_proxy: bool,
    ) -> None:
        self._application = application
        self._streams = streams
        self._most_bytes = most_bytes
        self._is_behind_proxy = is_behind_proxy
        self._waits_until: dict[Sender, float] = {}
        self._page_threads = ThreadPoolExecutor(server_limits.PAGE_THREADS, "page")
        self._upload_threads = ThreadPoolExecutor(server_limits.UPLOAD_THREADS, "upload")
        self._uploads = server_limits.Share(
            each=server_limits.UPLOADS_OF_ADDRESS, together=server_limits.UPLOAD_THREADS
        )
        self._form_bytes = server_limits.Share(
            each=server_limits.FORM_BYTES_OF_ADDRESS, together=server_limits.FORM_BYTES
        )

    async def __call__(self, scope: dict[str, Any], receive: Receive, send: Send) -> None:
        headers = dict(scope["headers"])
        length = _length(headers)
        has_body = length > 0 or b"transfer-encoding" in headers
        streams = has_body and self._streams(scope["path"])
        body = Body(
            receive, server_limits.UPLOAD_SECONDS if streams else server_limits.FORM_SECONDS
        )
        address = self._address(scope, headers)
        try:
            if streams:
                await self._answer_upload(scope, body, send, address)
            else:
                if length > self._most_bytes:
                    raise self._too_large()
                content = io.BytesIO(await self._collect(body, address))
                call = WsgiCall(self._application, environ_of(scope, content))
                block = await begin(call, self._page_threads)
                await send_answer(call, block, self._page_threads, body, send)
        except RequestRefused as refused:
            await send_refusal(refused.status, str(refused), headers, body, send)
        except ClientGone:
            return

    async def _answer_upload(
        self, scope: dict[str, Any], body: Body, send: Send, address: str
    ) -> None:
        sender = _sender(scope)
        if self._waits_until.get(sender, 0.0) > time.monotonic():
            raise RequestRefused(429, SENDER_BUSY)
        if not self._uploads.take(address):
            raise RequestRefused(503, UPLOADS_BUSY)
        try:
            reader = BlockReader(body)
            call = WsgiCall(self._application, environ_of(scope, reader))
            block = await begin(call, self._upload_threads, reader)
            if call.status == HTTPStatus.TOO_MANY_REQUESTS:
                self._let_wait(sender)
            await send_answer(call, block, self._upload_threads, body, send)
        finally:
            self._uploads.give_back(address)

    def _let_wait(self, sender: Sender) -> None:
        """Whom the application has told to come again later is told so here until then: an answer
        of its own costs more than a hundred of these."""
        now = time.monotonic()
        self._waits_until = {who: at for who, at in self._waits_until.items() if at > now}
        self._waits_until[sender] = now + RETRY_SECONDS

    async def _collect(self, body: Body, address: str) -> bytes:
        """The whole body of a page's request. Raises RequestRefused and ClientGone."""
        pieces, held = [], 0
        try:
            async for piece in body.pieces():
                pieces.append(piece)
                if held + len(piece) > self._most_bytes:
                    raise self._too_large()
                if not self._form_bytes.take(address, len(piece)):
                    raise RequestRefused(503, BUSY)
                held += len(piece)
        except TooSlow as late:
            raise RequestRefused(408, LATE) from late
        finally:
            self._form_bytes.give_back(address, held)
        return b"".join(pieces)

    def _too_large(self) -> RequestRefused:
        return RequestRefused(413, TOO_LARGE.format(kib=self._most_bytes // 1024))

    def _address(self, scope: dict[str, Any], headers: dict[bytes, bytes]) -> str:
        """Who is counted: the client, or the last one that the front has named."""
        if self._is_behind_proxy and b"x-forwarded-for" in headers:
            return headers[b"x-forwarded-for"].decode("latin-1").rpartition(",")[2].strip()
        return str(scope["client"][0]) if scope["client"] else ""


def _sender(scope: dict[str, Any]) -> Sender:
    """What the application knows somebody by."""
    names = {b"cookie", b"authorization"}
    return tuple(value for name, value in scope["headers"] if name in names)


def _length(headers: dict[bytes, bytes]) -> int:
    text = headers.get(b"content-length", b"0")
    return int(text) if text.isdigit() else 0
